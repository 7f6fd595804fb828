"""What the user does to coupons and treatments: dialogs asked, operations run, menus filled."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Slot
from PySide6.QtWidgets import QMenu, QWidget

from rustboard.board.model import Coupon
from rustboard.board.position import Position
from rustboard.operations.coupons import (
    add_coupon,
    add_coupon_with_treatment,
    edit_coupon,
    edit_coupon_with_treatment,
    move_coupon,
    remove_coupon,
    take_off,
)
from rustboard.operations.grading import withdraw_grade
from rustboard.ui.actions import ActionSet
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.doing import Do
from rustboard.ui.grid.geometry import Place
from rustboard.ui.page_commands import PageCommands

TILE_MENU = (
    "coupon.grade",
    "coupon.withdraw",
    "coupon.damage",
    "coupon.edit",
    "coupon.treatment",
    "coupon.leave_out",
    "coupon.take_back_in",
    "coupon.carry",
    "coupon.take_off",
    "coupon.remove",
)


class CouponCommands(PageCommands):
    """Commands about one coupon of the page in the window."""

    def __init__(self, window: QWidget, asker: Asker, do: Do) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self.actions: ActionSet | None = None

    def _wire_page(self, page: BoardPage) -> None:
        page.coupon_wanted.connect(self.add_at)
        page.tiles.canvas.move_asked.connect(self.move)
        page.tiles.canvas.off_asked.connect(self.take_off_key)
        page.tiles.canvas.menu_asked.connect(self.show_menu)

    def _current(self) -> Coupon | None:
        if self.page is None:
            return None
        return self.page.session.record.coupons.get(self.page.current_coupon() or 0)

    # ---- one coupon

    @Slot()
    def grade(self) -> None:
        """Open grading on the coupon under the keyboard."""
        coupon = self._current()
        if self.page is not None and coupon is not None:
            self.page.open_grading(coupon.key)

    @Slot()
    def grade_next(self) -> None:
        """Open grading on the next ungraded coupon."""
        if self.page is not None and not self.page.grade_next():
            self.told.emit(self.tr("Every coupon on the board is graded at this inspection."))

    @Slot()
    def withdraw(self) -> None:
        """Take back the grade of the coupon under the keyboard at the inspection in view."""
        coupon = self._current()
        if self.page is not None and coupon is not None:
            self._do(withdraw_grade, coupon.key, self.page.session.selection.inspection or 0)

    @Slot()
    def edit(self) -> None:
        """Edit the coupon under the keyboard."""
        coupon = self._current()
        if coupon is not None:
            self._ask_coupon(coupon, coupon.position)

    @Slot()
    def add(self) -> None:
        """Add a coupon at the position under the keyboard, or the first free one."""
        if self.page is not None:
            canvas = self.page.tiles.canvas
            empty = canvas.content.coupon_of(canvas.focus_place()) is None
            position = canvas.focus_place().position if empty else None
            self.add_at(position if position is not None else self._first_free())

    @Slot(object)
    def add_at(self, position: Position | None) -> None:
        """Add a coupon at a position."""
        if self.page is not None and not self.page.session.read_only_reason:
            self._ask_coupon(None, position)

    def _first_free(self) -> Position | None:
        record = self.page.session.record if self.page is not None else None
        if record is None:
            return None
        taken = {each.position for each in record.coupons.values()}
        places = (Position(row, column) for row in range(record.board.rows) for column in range(record.board.columns))
        return next((each for each in places if each not in taken), None)

    def _ask_coupon(self, coupon: Coupon | None, position: Position | None) -> None:
        from rustboard.ui.dialogs.coupon import CouponDialog

        if self.page is None:
            return
        record = self.page.session.record
        dialog = CouponDialog(record, coupon, position, self._window)
        if not self._asker.dialog(dialog):
            return
        new = dialog.new_treatment()
        if new is None:
            self._do(add_coupon if coupon is None else edit_coupon, dialog.coupon())
        else:
            together = add_coupon_with_treatment if coupon is None else edit_coupon_with_treatment
            self._do(together, dialog.coupon(), new)

    @Slot(int, object)
    def move(self, coupon: int, position: Position) -> None:
        """Hang a coupon elsewhere."""
        self._do(move_coupon, coupon, position)

    @Slot()
    def carry(self) -> None:
        """Pick the coupon under the keyboard up; arrows or a tap say where to."""
        if self.page is None:
            return
        coupon = self._current()
        self.page.close_grading()
        self.page.tiles.show_table(False)
        if coupon is not None:
            self.page.tiles.show_coupon(coupon.key)
            self.page.tiles.canvas.setFocus()
            self.page.tiles.canvas.pick_up()
            self.told.emit(
                self.tr("Choose the new position with the arrow keys and Enter, or tap it. Esc puts it back.")
            )

    @Slot()
    def take_off(self) -> None:
        """Take the coupon under the keyboard off the board."""
        coupon = self._current()
        if coupon is not None:
            self.take_off_key(coupon.key)

    @Slot(int)
    def take_off_key(self, coupon: int) -> None:
        """Take a coupon off the board."""
        self._do(take_off, coupon)

    @Slot()
    def remove(self) -> None:
        """Remove the coupon under the keyboard, if it was never graded."""
        coupon = self._current()
        if coupon is not None:
            self._do(remove_coupon, coupon.key)

    @Slot(object, object)
    def show_menu(self, place: Place, where: QPoint) -> None:
        """Show the menu of a place of the board."""
        if self.page is None or self.actions is None:
            return
        menu = QMenu(self._window)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        key = self.page.tiles.canvas.content.coupon_of(place)
        if key is not None and self.page.grading_coupon() is not None:
            self.page.open_grading(key)  # or the menu of one tile would act on the coupon being graded
        self.actions.fill_menu(menu, TILE_MENU if key is not None else ("coupon.add",))
        self.page.state_changed.emit()
        menu.popup(where)
