"""Help: the keys, and what the program is."""

from __future__ import annotations

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QMessageBox, QWidget

import rustboard
from rustboard.ui.actions import ActionSet
from rustboard.ui.ask import Asker


class HelpCommands(QObject):
    """Commands of the help menu."""

    def __init__(self, window: QWidget, asker: Asker) -> None:
        """Remember the window."""
        super().__init__(window)
        self._window, self._asker = window, asker
        self.actions: ActionSet | None = None

    @Slot()
    def keys(self) -> None:
        """Show every key."""
        from rustboard.ui.dialogs.keys import KeysDialog

        rows = (
            self._grading_rows()
            + self._pair_rows()
            + self._board_rows()
            + self._photo_rows()
            + self._drawing_rows()
            + self._practice_rows()
            + (self.actions.rows() if self.actions is not None else [])
        )
        self._asker.dialog(KeysDialog(rows, self._window))

    def _grading_rows(self) -> list[tuple[str, str]]:
        return [
            (self.tr("While grading: give grade 0 to 9"), "0 … 9"),
            (self.tr("While grading: give grade 10"), "T"),
            (self.tr("While grading: distribution spot, general, pinpoint, hybrid"), "S, G, P, H"),
            (self.tr("While grading: coupon before, coupon after"), self.tr("Left, Right")),
            (self.tr("While grading: note; reference on this coupon; compare large"), "N, C, L"),
            (self.tr("While grading: damage beside the grade"), "D"),
            (self.tr("While grading: take over what the photo says"), self.tr("Enter")),
            (self.tr("While grading: by percent, or by the keys again"), "%"),
            (self.tr("By percent: a little more, less; by a grade"), self.tr("Up, Down; PgUp, PgDn")),
            (self.tr("By percent: no rust, all rust; give what is shown"), self.tr("Home, End; Enter")),
            (self.tr("While grading: withdraw the grade; close"), self.tr("Del, Esc")),
            (
                self.tr("How graders agree: next coupon; agree on a grade; with letter"),
                self.tr("Arrows; 0 … 9, T; S, G, P, H"),
            ),
            (self.tr("While grading blind: interrupt; finish the round"), self.tr("Esc; Ctrl+Enter")),
        ]

    def _pair_rows(self) -> list[tuple[str, str]]:
        return [
            (self.tr("Side by side: left, right one rustier; cannot tell"), self.tr("Left, Right; Down or Space")),
            (self.tr("Side by side: take the last choice back; interrupt"), self.tr("Backspace; Esc")),
            (self.tr("Side by side: nearer, farther, whole pictures"), "+, −, 0"),
        ]

    def _board_rows(self) -> list[tuple[str, str]]:
        return [
            (self.tr("On the board: walk; grade the coupon or add one"), self.tr("Arrows; Enter")),
            (self.tr("On the board: choose several coupons for the timeline"), self.tr("Ctrl+Space or Ctrl+click")),
            (self.tr("On the board: menu of the tile"), self.tr("Menu key or right click")),
        ]

    def _drawing_rows(self) -> list[tuple[str, str]]:
        return [
            (self.tr("On a photo: nearer, farther, whole picture"), "+, −, 0"),
            (self.tr("Corners of the board: put all four; choose one"), self.tr("Enter; 1 … 4, Tab")),
            (self.tr("Corners of the board: move one by 1 pixel; by 10"), self.tr("Arrows; Shift+arrows")),
            (self.tr("Outlines: next point; move by 0.5 mm; by 5 mm"), self.tr("Tab; arrows; Shift+arrows")),
            (self.tr("Outlines: turn; add a point; take one away"), self.tr("[ and ]; Ins; Del")),
        ]

    def _practice_rows(self) -> list[tuple[str, str]]:
        return [
            (self.tr("Practice: give grade 0 to 9; ten; nearer, farther"), self.tr("0 … 9; T; +, −")),
            (self.tr("Practice: mark the rust; go on; leave"), self.tr("M; Enter or Space; Esc")),
        ]

    def _photo_rows(self) -> list[tuple[str, str]]:
        return [
            (self.tr("Photos: day before, day after; with Shift the day to compare with"), self.tr("PgUp, PgDn")),
            (self.tr("Photos: take over what was measured on this coupon"), self.tr("Enter")),
            (self.tr("Photos: masks on or off; their edges alone"), self.tr("M, Shift+M")),
            (
                self.tr("Photos: compare two days; the other day while held; move the divider"),
                self.tr("C; B; Shift+Left, Right"),
            ),
            (self.tr("Photos: brush; add or take away; narrower, wider"), self.tr("P; R; [ and ]")),
            (self.tr("Photos: move the brush; set it down and lift it; give up"), self.tr("Arrows; Space; Esc")),
            (self.tr("Photos: larger, smaller, whole; move the picture"), self.tr("+, -, 0; Ctrl+arrows")),
        ]

    @Slot()
    def about(self) -> None:
        """Say what the program is, and its caution."""
        text = self.tr(
            "Rustboard {0}\n\nGrades coated steel coupons that weather on a board, and keeps the record.\n\n"
            "Grades follow the area limits of ASTM D610; reference pictures are drawn by this program and replace no "
            "standard's own. Results compare only coupons of the same place and time.\n\n"
            "Coatings, solvents and acids can hurt: follow product data sheets and local rules.\n\n"
            "Free software under the GNU General Public License, version 3 or later; it comes without warranty."
        )
        box = QMessageBox(self._window)
        box.setWindowTitle(self.tr("About Rustboard"))
        box.setText(text.format(rustboard.__version__))
        self._asker.dialog(box)
