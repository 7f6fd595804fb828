"""Which scenes may be looked at while the program is being made, and which may not."""

from __future__ import annotations

SEEDS_FOR_DEVELOPING = tuple(range(1, 21))
HARD_SEEDS_FOR_DEVELOPING = tuple(range(101, 111))

# Only the final check ever runs these. Nobody looks at their pictures, measures them or tunes anything on them
# before: a figure reached on scenes that were used for developing says little about others.
# 5001 to 5015, 6001 to 6015, 7001 to 7015, and those from 5101, 6101 and 7101 on were run once and are spent: their
# worst cases have been read, and they serve for developing now. Take new ones after every final check.
SEEDS_FOR_THE_FINAL_CHECK = tuple(range(8001, 8016))
HARD_SEEDS_FOR_THE_FINAL_CHECK = tuple(range(8101, 8109))
