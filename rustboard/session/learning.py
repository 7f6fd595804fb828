"""What all boards of the shelf say of one treatment: what there is to ask, and the answer; two jobs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.exposure_clock import day_clock
from rustboard.board.question import DEFAULT_FAILING_GRADE, Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days
from rustboard.findings.boards.matching import MOST_BOARDS
from rustboard.findings.boards.sought import PARTS, Part, Sought, offers_of, plain
from rustboard.session.comparing import known_track, weather_of
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board
from rustboard.session.other_boards import openly
from rustboard.session.shelf import shelf_entries
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings

if TYPE_CHECKING:
    from rustboard.findings.boards.learnt import Learnt
    from rustboard.weather.exposure import Exposure

MOST_OFFERS: Final = 5_000
"""More different texts than anybody looks through in a list."""


@dataclass(frozen=True, slots=True)
class Unread:
    """A board that could not be asked.

    Attributes:
        name: of the board or its folder. why: in a sentence.
    """

    name: str
    why: str


@dataclass(frozen=True, slots=True)
class Offer:
    """Something that can be asked.

    Attributes:
        sought: what. folders: of the boards that have it, as they stand on the shelf.
    """

    sought: Sought
    folders: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Askable:
    """All that can be asked of the shelf.

    Attributes:
        offers: by part, what most boards have first. boards: how many could be read. unread: those that could not.
    """

    offers: tuple[Offer, ...]
    boards: int
    unread: tuple[Unread, ...]

    def of(self, part: Part) -> list[Offer]:
        """Return what can be asked of a part."""
        return [each for each in self.offers if each.sought.part == part]

    def find(self, part: Part, text: str) -> Offer | None:
        """Return what is asked by a text as it was typed, or None where no board has it."""
        wanted = plain(text)
        return next((each for each in self.of(part) if plain(each.sought.text) == wanted), None)


def what_can_be_asked(settings: Settings, progress: Progress) -> Askable:
    """Read the treatments of all boards of the shelf, archived ones too; a job.

    Raises:
        Cancelled: the user asked to stop.
    """
    entries = shelf_entries(settings, progress)
    texts: dict[tuple[Part, str], str] = {}
    folders: dict[tuple[Part, str], list[Path]] = {}
    unread: list[Unread] = []
    for number, entry in enumerate(entries):
        progress.step(number, len(entries))
        if entry.problem:
            unread.append(Unread(entry.name, entry.problem))
            continue
        try:
            record = openly(look_at_board(entry.folder))
        except InputError as error:
            unread.append(Unread(entry.name, error.problem.what))
            continue
        for key, text in offers_of([record]).items():
            texts.setdefault(key, text)
            folders.setdefault(key, []).append(entry.folder)
    offers = [Offer(Sought(key[0], text), tuple(folders[key])) for key, text in texts.items()]
    offers.sort(key=lambda each: (PARTS.index(each.sought.part), -len(each.folders), plain(each.sought.text)))
    return Askable(tuple(offers[:MOST_OFFERS]), len(entries) - len(unread), tuple(unread))


@dataclass(frozen=True, slots=True)
class LearnRequest:
    """What is asked.

    Attributes:
        offer: with the boards that have it. failing_grade: at this grade or below a coupon has failed.
    """

    offer: Offer
    failing_grade: int = DEFAULT_FAILING_GRADE


@dataclass(frozen=True, slots=True)
class BoardFacts:
    """What is known of a board beside its grades.

    Attributes:
        folder: of the board. site: where it hung. weather: from its start to its last inspection, or None.
        days: it was watched.
    """

    folder: Path
    site: str
    weather: Exposure | None
    days: float


@dataclass(frozen=True, slots=True)
class Answer:
    """What was learnt, and from which boards.

    Attributes:
        learnt: the sums and sentences. failing_grade: that was asked for.
        facts: of the boards, in the order of ``learnt.boards``.
        unread: boards that had it when the shelf was read and cannot be asked now.
        left_out: how many boards more have it than can be put together.
    """

    learnt: Learnt
    failing_grade: int
    facts: tuple[BoardFacts, ...]
    unread: tuple[Unread, ...]
    left_out: int = 0


def learn(request: LearnRequest, progress: Progress) -> Answer:
    """Return what the boards say of a treatment; a job.

    Raises:
        Cancelled: the user asked to stop.
    """
    from rustboard.findings.boards.learnt import learnt_of
    from rustboard.findings.boards.sought import treated
    from rustboard.findings.coupons.subject import FindingsRequest

    question = Question(failing_grade=request.failing_grade)
    wanted = request.offer.folders[:MOST_BOARDS]
    asked: list[FindingsRequest] = []
    facts: list[BoardFacts] = []
    unread: list[Unread] = []
    for number, folder in enumerate(wanted):
        progress.step(number, 2 * len(wanted))
        try:
            record = openly(look_at_board(folder))
        except InputError as error:
            unread.append(Unread(folder.name, error.problem.what))
            continue
        if not treated(record, request.offer.sought):
            continue
        asked.append(FindingsRequest(record, day_clock(inspection_days(record)), question))
        facts.append(_facts(folder, record, progress))
    learnt = learnt_of(asked, request.offer.sought, _SecondHalf(progress))
    return Answer(
        learnt, request.failing_grade, tuple(facts), tuple(unread), len(request.offer.folders) - len(wanted)
    )


def _facts(folder: Path, record: BoardRecord, progress: Progress) -> BoardFacts:
    last = max((each.at for each in record.inspections.values()), default=None)
    days = 0.0 if last is None else max(record.day_of(last), 0.0)
    track = known_track(folder, record, progress)
    return BoardFacts(folder, record.board.site, weather_of(track, record), days)


class _SecondHalf:
    """Tells how far the sums are, behind the reading of the boards."""

    def __init__(self, of: Progress) -> None:
        self._of = of

    def step(self, done: int, total: int) -> None:
        """Tell how far the work is; may end it by raising."""
        self._of.step(total + done, 2 * total)


def answer_lines(answer: Answer, sentences: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Return an answer as text: the sentences, then the table with tabulators."""
    lines = [*sentences, "", *("\t".join(row) for row in rows)]
    lines += [f"{each.name}: {each.why}" for each in answer.unread]
    return "\n".join(lines)
