"""One coupon in dispute: large beside the grades' reference pictures, and the keys to agree on a grade."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.board.blind_result import RULE
from rustboard.board.grade import DISTRIBUTIONS, carries_letter
from rustboard.board.model import Grading
from rustboard.session.agreement import Differing
from rustboard.session.jobs import Progress
from rustboard.session.pictures import GuideRequest, Pattern
from rustboard.support.problems import InputError
from rustboard.support.text import some_of
from rustboard.ui.agreement.agreement_words import say, short_name
from rustboard.ui.agreement.coupon_thumbs import CouponThumbs
from rustboard.ui.agreement.differing_list import Row
from rustboard.ui.agreement.dispute_pictures import DisputePictures, Shot, draw_references
from rustboard.ui.agreement.grade_chip import KEY_MM, DigitKey
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import cut_images
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.forms.labels import words_label
from rustboard.ui.guide.strip import limits_text
from rustboard.ui.theme import Scheme, px_of_mm
from rustboard.ui.wording import tool_tip

_REFERENCE_PX = 480
_MOST_REFERENCES = 4
_MOST_NAMED = 3
_PATTERNS: tuple[Pattern, ...] = ("S", "G", "P")


class DisputePanel(QWidget):
    """Shows the coupon that is chosen, and lets the graders agree.

    Signals:
        agreed(int, str): the graders agree on a grade with this letter, or none.

    Attributes:
        keys: the eleven small keys by grade. letters: of the distribution.
    """

    agreed = Signal(int, str)

    def __init__(
        self, thumbs: CouponThumbs, bridge: JobBridge, scheme: Scheme, parent: QWidget | None = None
    ) -> None:
        """Start without a coupon."""
        super().__init__(parent)
        self._thumbs, self._bridge = thumbs, bridge
        self._row: Row | None = None
        self._counts: Grading | None = None
        self._large: QImage | None = None
        self._references: dict[tuple[Pattern, int], QImage] = {}
        self._jobs: list[Progress] = []
        self._title = QLabel()
        self._title.setProperty("heading", True)
        self._title.setTextFormat(Qt.TextFormat.PlainText)
        self._title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.given, self.counts = words_label(narrow=True), words_label(narrow=True)
        self.counts.setProperty("heading", True)
        self.pictures = DisputePictures(scheme)
        self._ask = words_label(self.tr("Talked it over? Agree on a grade; both are kept."), muted=True, narrow=True)
        self.keys = {grade: DigitKey(grade, scheme) for grade in range(10, -1, -1)}
        self.letters = {letter: self._letter_key(letter) for letter in DISTRIBUTIONS}
        self._keys = QWidget()
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        digits, letters = FlowLayout(spacing=3), QHBoxLayout()
        for key in self.keys.values():
            digits.addWidget(key)
        letters.setSpacing(3)
        letters.addWidget(QLabel(self.tr("with letter")))
        for letter in self.letters.values():
            letters.addWidget(letter)
        letters.addStretch(1)
        keys = QVBoxLayout(self._keys)
        keys.setContentsMargins(0, 0, 0, 0)
        keys.setSpacing(3)
        keys.addLayout(digits)
        keys.addLayout(letters)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 4, 4)
        column.setSpacing(4)
        column.addWidget(self._title)
        column.addWidget(self.given)
        column.addWidget(self.pictures, 1)
        column.addWidget(self.counts)
        column.addWidget(self._ask)
        column.addWidget(self._keys)

    def _letter_key(self, letter: str) -> QPushButton:
        names = {
            "S": self.tr("Spot rust"),
            "G": self.tr("General rust"),
            "P": self.tr("Pinpoint rust"),
            "H": self.tr("Hybrid"),
        }
        key = QPushButton(letter)
        key.setCheckable(True)
        key.setAccessibleName(self.tr("Distribution letter: {0}").format(names[letter]))
        key.setToolTip(self.tr("{0}: goes with the grade you agree on. Key: {1}").format(names[letter], letter))
        side = px_of_mm(self, KEY_MM)
        key.setFixedSize(side, side)
        key.setStyleSheet("QPushButton { padding: 0px; }")
        return key

    def _wire(self) -> None:
        for key in self.keys.values():
            key.clicked.connect(self._press_grade)
        for letter in self.letters.values():
            letter.clicked.connect(self._press_letter)

    # ---- what is shown

    def show_row(self, row: Row | None, counts: Grading | None, *, writable: bool) -> None:
        """Show a coupon, or nothing; ``counts`` is the grade that counts for it."""
        same = row is not None and self._row is not None and row.subject == self._row.subject
        self._row, self._counts = row, counts
        for each in (self._title, self.given, self.counts, self.pictures):
            each.setVisible(row is not None)
        blind = row is not None and row.differing.by_rule is not None
        can = writable and row is not None and blind and len(row.differing.given) > 1
        for keys in (self._ask, self._keys):
            keys.setVisible(can)
        if row is None:
            return
        self._title.setText(row.title if not row.day else f"{row.title} · {row.day}")
        self._title.setToolTip(tool_tip(self._title.text()))
        self.given.setText(row.given)
        self.counts.setText(row.counts)
        self.counts.setToolTip(tool_tip(say(RULE)) if row.differing.by_rule is not None else "")
        agreed = counts is not None and counts.source == "agreed"
        for grade, key in self.keys.items():
            key.set_counts(counts is not None and counts.grade == grade)
        if agreed or not same:
            for letter, button in self.letters.items():
                button.setChecked(counts is not None and counts.distribution == letter)
        if not same:
            self._large = None
        self._show_pictures()
        self._ask_pictures(cut=not same)

    def _grades(self) -> tuple[int, ...]:
        """Return the grades in dispute, the best first; of many the outermost and some between."""
        row = self._row
        if row is None:
            return ()
        grades = {grade for each in row.differing.given for grade in (each.grade, each.again) if grade is not None}
        if row.differing.photo is not None:
            grades.add(row.differing.photo)
        if self._counts is not None:
            grades.add(self._counts.grade)
        ordered = sorted(grades, reverse=True)
        if len(ordered) <= _MOST_REFERENCES:
            return tuple(ordered)
        steps = (len(ordered) - 1) / (_MOST_REFERENCES - 1)
        return tuple(ordered[round(at * steps)] for at in range(_MOST_REFERENCES))

    def _pattern(self) -> Pattern:
        letter = "" if self._counts is None else self._counts.distribution
        return next((each for each in _PATTERNS if each == letter), "S")

    def _show_pictures(self) -> None:
        row = self._row
        if row is None:
            return
        small = self._thumbs.image(row.differing.coupon, row.differing.inspection)
        shots = [Shot(self._large or small, None, self.tr("as photographed"), "")]
        for grade in self._grades():
            image = self._references.get((self._pattern(), grade))
            shots.append(Shot(image, grade, limits_text(grade), self._who_gave(row.differing, grade)))
        grades = ", ".join(str(each) for each in self._grades())
        words = self.tr("{0}, beside the reference pictures of the grades {1}").format(row.title, grades)
        self.pictures.show_shots(shots, words)

    def _who_gave(self, differing: Differing, grade: int) -> str:
        names = [short_name(each.grader) for each in differing.given if grade in (each.grade, each.again)]
        if differing.photo == grade:
            names.append(say("photo"))
        if self._counts is not None and self._counts.grade == grade and self._counts.source == "agreed":
            names.append(say("agreed"))
        return some_of(names, _MOST_NAMED)

    def _ask_pictures(self, *, cut: bool) -> None:
        row = self._row
        if row is None:
            return
        for job in self._jobs if cut else ():
            job.cancel()
        pattern = self._pattern()
        missing = tuple(each for each in self._grades() if (pattern, each) not in self._references)
        if missing:
            request = GuideRequest(pattern, "middle", _REFERENCE_PX)
            arrival = _References(self, pattern)
            self._jobs.append(
                self._bridge.start(
                    ("references", id(self)), draw_references, request, missing,
                    done=arrival.come, failed=self._without, owner=self,
                )
            )  # fmt: skip
        request_large = self._thumbs.request_for(*row.subject) if cut else None
        if request_large is not None:
            self._jobs.append(
                self._bridge.start(
                    ("disputed", id(self)), cut_images, request_large,
                    done=self._cut, failed=self._without, owner=self,
                )
            )  # fmt: skip
        self._jobs = [each for each in self._jobs if not each.cancelled][-4:]

    def take_references(self, pattern: Pattern, images: dict[int, QImage]) -> None:
        """Keep reference pictures and show them."""
        self._references.update({(pattern, grade): image for grade, image in images.items()})
        self._show_pictures()

    def _cut(self, images: dict[int, QImage]) -> None:
        row = self._row
        if row is not None and row.differing.coupon in images:
            self._large = images[row.differing.coupon]
            self._show_pictures()

    def _without(self, error: InputError) -> None:
        """Keep what is shown; what is wrong with a photo is told where photos are."""

    @Slot()
    def show_thumbs(self) -> None:
        """Show small pictures that have come meanwhile."""
        self._show_pictures()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.pictures.set_scheme(scheme)
        for key in self.keys.values():
            key.set_scheme(scheme)

    # ---- agreeing

    def letter(self) -> str:
        """Return the letter pressed, or an empty text."""
        return next((letter for letter, key in self.letters.items() if key.isChecked()), "")

    def can_agree(self) -> bool:
        """Return whether there is a coupon to agree on, and the board may be changed."""
        return not self._keys.isHidden()

    def agree(self, grade: int) -> None:
        """Agree on a grade, with the letter pressed where the grade carries one."""
        if self.can_agree():
            self.agreed.emit(grade, self.letter() if carries_letter(grade) else "")

    @Slot()
    def _press_grade(self) -> None:
        key = self.sender()
        if isinstance(key, DigitKey):
            self.agree(key.grade)

    @Slot()
    def _press_letter(self) -> None:
        """Let the other letters go; a grade agreed on already takes the letter at once."""
        pressed = self.sender()
        for key in self.letters.values():
            if key is not pressed:
                key.setChecked(False)
        counts = self._counts
        if counts is not None and counts.source == "agreed" and carries_letter(counts.grade):
            self.agree(counts.grade)


class _References:
    """What happens when reference pictures of one pattern come."""

    def __init__(self, panel: DisputePanel, pattern: Pattern) -> None:
        self._panel, self._pattern = panel, pattern

    def come(self, images: dict[int, QImage]) -> None:
        self._panel.take_references(self._pattern, images)
