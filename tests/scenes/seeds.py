"""Which scenes may be looked at while the program is being made, and which may not."""

from __future__ import annotations

SEEDS_FOR_DEVELOPING = tuple(range(1, 21))
HARD_SEEDS_FOR_DEVELOPING = tuple(range(101, 111))

# Only the final check ever runs these. Nobody looks at their pictures, measures them or tunes anything on them
# before: a figure reached on scenes that were used for developing says little about others.
# 5001 to 5015, 5101 to 5108, 6001 to 6015 and 6101 to 6108 were run once and are spent: their worst cases have been
# read, and they serve for developing now. Take new ones after every final check.
SEEDS_FOR_THE_FINAL_CHECK = tuple(range(7001, 7016))
HARD_SEEDS_FOR_THE_FINAL_CHECK = tuple(range(7101, 7109))
