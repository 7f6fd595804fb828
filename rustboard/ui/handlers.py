"""Which handler each action of the table calls."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from rustboard.ui.agreement_commands import AgreementCommands
from rustboard.ui.blind_commands import BlindCommands
from rustboard.ui.board_commands import BoardCommands
from rustboard.ui.boards_desk import BoardsDesk
from rustboard.ui.coupon_commands import CouponCommands
from rustboard.ui.coupon_desk import CouponDesk
from rustboard.ui.file_commands import FileCommands
from rustboard.ui.film_commands import FilmCommands
from rustboard.ui.findings_commands import FindingsCommands
from rustboard.ui.help_commands import HelpCommands
from rustboard.ui.intake_commands import IntakeCommands
from rustboard.ui.next_photo_commands import NextPhotoCommands
from rustboard.ui.outline_commands import OutlineCommands
from rustboard.ui.photo_commands import PhotoCommands
from rustboard.ui.photo_keeping_commands import PhotoKeepingCommands
from rustboard.ui.placing_commands import PlacingCommands
from rustboard.ui.plan_commands import PlanCommands
from rustboard.ui.practice_commands import PracticeCommands
from rustboard.ui.side_by_side_commands import SideBySideCommands
from rustboard.ui.treatment_commands import TreatmentCommands
from rustboard.ui.view_commands import ViewCommands
from rustboard.ui.weather_desk import WeatherDesk


class Commanded(Protocol):
    """A window with its command objects and the few actions that are its own."""

    coupons: CouponCommands
    coupon_desk: CouponDesk
    treatments: TreatmentCommands
    board: BoardCommands
    boards: BoardsDesk
    blind: BlindCommands
    pairs: SideBySideCommands
    agreement: AgreementCommands
    findings: FindingsCommands
    files: FileCommands
    plan: PlanCommands
    view: ViewCommands
    help: HelpCommands
    intake: IntakeCommands
    placing: PlacingCommands
    keeping: PhotoKeepingCommands
    outlines: OutlineCommands
    next_photo: NextPhotoCommands
    weather: WeatherDesk
    photos: PhotoCommands
    films: FilmCommands
    practice: PracticeCommands

    def undo(self) -> None:
        """Take the last step back."""

    def show_shelf(self) -> None:
        """Show all boards."""

    def close(self) -> bool:
        """Close the window."""


def handlers_of(window: Commanded) -> dict[str, Callable[[], object]]:
    """Return the handlers by action id."""
    coupons, board, files = window.coupons, window.board, window.files
    return {
        "file.shelf": window.show_shelf,
        "file.new": files.new,
        "file.from_plan": files.from_plan,
        "file.like": files.like_this,
        "file.open": files.open_other,
        "file.second_window": files.second_window,
        "file.copy": files.copy_this,
        "file.save_plan": files.save_plan,
        "file.paper": window.plan.print_paper,
        "file.grades": files.grades_from_file,
        "file.go_back": files.go_back,
        "file.audit": files.audit,
        "file.close": window.close,
        "edit.undo": window.undo,
        "edit.redo": files.redo,
        "coupon.grade": coupons.grade,
        "round.next": coupons.grade_next,
        "coupon.withdraw": coupons.withdraw,
        "coupon.edit": coupons.edit,
        "coupon.treatment": window.treatments.edit_its_treatment,
        "coupon.carry": coupons.carry,
        "coupon.take_off": coupons.take_off,
        "coupon.remove": coupons.remove,
        "coupon.add": coupons.add,
        "inspection.add": board.add_inspection,
        "inspection.edit": board.edit_inspection,
        "inspection.remove": board.remove_inspection,
        "inspection.blind": window.blind.start,
        "inspection.side_by_side": window.pairs.show_screen,
        "inspection.agreement": window.agreement.toggle,
        "findings.show": window.findings.toggle,
        "inspection.earlier": board.earlier,
        "inspection.later": board.later,
        "board.plan": window.plan.toggle,
        "board.treatments": window.treatments.treatments,
        "board.row": board.row_menu,
        "board.column": board.column_menu,
        "board.add_row": board.add_row,
        "board.add_column": board.add_column,
        "board.edit": board.describe,
        **_about_photos(window),
        **window.coupon_desk.handlers(),
        **window.weather.handlers(),
        **window.boards.handlers(),
        "view.table": window.view.toggle_table,
        "view.timeline": window.view.toggle_timeline,
        "view.large_keys": window.view.toggle_large_keys,
        "view.say_grades": window.view.toggle_say_grades,
        "view.system": window.view.choose_scheme,
        "view.light": window.view.choose_scheme,
        "view.dark": window.view.choose_scheme,
        "view.sunlight": window.view.choose_scheme,
        "help.keys": window.help.keys,
        "help.practice": window.practice.practise,
        "help.about": window.help.about,
    }


def _about_photos(window: Commanded) -> dict[str, Callable[[], object]]:
    return {
        "photos.show": window.photos.toggle,
        "photos.measure": window.photos.measure,
        "photos.add": window.intake.add_photos,
        "photos.paste": window.intake.paste,
        "photos.time": window.intake.photo_times,
        "photos.belongs": window.keeping.belongs,
        "photos.remove": window.keeping.remove,
        "photos.next": window.next_photo.next_photo,
        "photos.place": window.placing.place_by_hand,
        "photos.outlines": window.outlines.edit_outlines,
        "photos.film": window.films.film,
    }
