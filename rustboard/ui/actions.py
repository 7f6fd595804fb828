"""Every user action in one table: id, text, keys, menu, and when it can be done.

Menus, the toolbar, the list of keys and the tests read it; a handler is found by the id.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final, Literal

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, QObject
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

When = Literal[
    "always", "board", "writable", "tiles", "own tiles", "coupon", "graded", "inspection", "undo", "redo", "changed",
    "photo", "own photo", "visited", "left out",
]  # fmt: skip
Menu = Literal["file", "edit", "board", "photos", "weather", "view", "help"]


@dataclass(frozen=True, slots=True)
class ActionSpec:
    """One thing a user can do.

    Attributes:
        id: ``screen.verb``. text: in the menu. keys: shortcuts, portable text. menu: where it stands.
        when: what must be so; ``tiles``: the board itself is in view, and not its plan; ``own tiles``: and it may be
            changed; ``visited``: a coupon, and an inspection in view;
            ``left out``: a coupon that the findings do without; ``photo``: there is one;
            ``own photo``: and the board may be changed.
        checkable: it is a switch. separated: a line above it in the menu.
    """

    id: str
    text: str
    menu: Menu
    when: When = "always"
    keys: tuple[str, ...] = ()
    checkable: bool = False
    separated: bool = False


def _spec(
    name: str, text: object, menu: Menu, when: When = "always", *keys: str, switch: bool = False, line: bool = False
) -> ActionSpec:
    return ActionSpec(name, str(text), menu, when, keys, switch, line)


ACTIONS: Final[tuple[ActionSpec, ...]] = (
    _spec("file.shelf", QT_TRANSLATE_NOOP("actions", "&All boards"), "file", "always", "Ctrl+Home"),
    _spec("file.new", QT_TRANSLATE_NOOP("actions", "&New board…"), "file", "always", "Ctrl+N", line=True),
    _spec("file.from_plan", QT_TRANSLATE_NOOP("actions", "New board from a &plan file…"), "file"),
    _spec("file.like", QT_TRANSLATE_NOOP("actions", "New board &like this one…"), "file", "board"),
    _spec("file.next", QT_TRANSLATE_NOOP("actions", "Next &board, one thing changed…"), "file", "board"),
    _spec("file.open", QT_TRANSLATE_NOOP("actions", "&Open board…"), "file", "always", "Ctrl+O"),
    _spec("file.unpack", QT_TRANSLATE_NOOP("actions", "Open a rece&ived board…"), "file"),
    _spec("file.second_window", QT_TRANSLATE_NOOP("actions", "Another &window"), "file", "always", "Ctrl+Shift+N"),
    _spec("file.save_plan", QT_TRANSLATE_NOOP("actions", "Sa&ve the plan…"), "file", "board", line=True),
    _spec("file.paper", QT_TRANSLATE_NOOP("actions", "Print for the work&shop…"), "file", "board", "Ctrl+P"),
    _spec("file.copy", QT_TRANSLATE_NOOP("actions", "Save a &copy…"), "file", "board", "Ctrl+Shift+S", line=True),
    _spec("file.pack", QT_TRANSLATE_NOOP("actions", "Pac&k to send…"), "file", "board"),
    _spec("file.grades", QT_TRANSLATE_NOOP("actions", "Add grades from a &file…"), "file", "writable"),
    _spec("file.import", QT_TRANSLATE_NOOP("actions", "I&mport old grades…"), "file"),
    _spec("file.report", QT_TRANSLATE_NOOP("actions", "Repor&t…"), "file", "board", "Ctrl+R"),
    _spec("file.go_back", QT_TRANSLATE_NOOP("actions", "&Go back to when I opened it"), "file", "changed", line=True),
    _spec("file.audit", QT_TRANSLATE_NOOP("actions", "&Record of changes…"), "file", "board"),
    _spec("file.close", QT_TRANSLATE_NOOP("actions", "Clos&e window"), "file", "always", "Ctrl+W", line=True),
    _spec("edit.undo", QT_TRANSLATE_NOOP("actions", "&Undo"), "edit", "undo", "Ctrl+Z"),
    _spec("edit.redo", QT_TRANSLATE_NOOP("actions", "&Redo"), "edit", "redo", "Ctrl+Shift+Z", "Ctrl+Y"),
    _spec("coupon.grade", QT_TRANSLATE_NOOP("actions", "&Grade this coupon"), "edit", "coupon", "Ctrl+G", line=True),
    _spec("round.next", QT_TRANSLATE_NOOP("actions", "Grade the ne&xt ungraded"), "edit", "inspection", "F6"),
    _spec("coupon.withdraw", QT_TRANSLATE_NOOP("actions", "&Withdraw its grade"), "edit", "graded"),
    _spec("coupon.damage", QT_TRANSLATE_NOOP("actions", "Its &damage…"), "edit", "visited", "Ctrl+Shift+D"),
    _spec("coupon.edit", QT_TRANSLATE_NOOP("actions", "&Edit coupon…"), "edit", "coupon", "Ctrl+E", line=True),
    _spec("coupon.treatment", QT_TRANSLATE_NOOP("actions", "Edit its &treatment…"), "edit", "coupon", "Ctrl+T"),
    _spec(
        "coupon.carry", QT_TRANSLATE_NOOP("actions", "&Move coupon (arrows, then Enter)"), "edit", "coupon", "Ctrl+M"
    ),
    _spec("coupon.take_off", QT_TRANSLATE_NOOP("actions", "Take &off the board"), "edit", "coupon"),
    _spec("coupon.remove", QT_TRANSLATE_NOOP("actions", "Remo&ve coupon"), "edit", "coupon"),
    _spec("inspection.add", QT_TRANSLATE_NOOP("actions", "&Add inspection…"), "board", "writable", "Ctrl+I"),
    _spec("inspection.edit", QT_TRANSLATE_NOOP("actions", "&Edit inspection…"), "board", "inspection"),
    _spec("inspection.remove", QT_TRANSLATE_NOOP("actions", "&Remove inspection"), "board", "inspection"),
    _spec(
        "inspection.blind",
        QT_TRANSLATE_NOOP("actions", "Grade &blind…"),
        "board",
        "inspection",
        "Ctrl+Shift+B",
        line=True,
    ),
    _spec("inspection.side_by_side", QT_TRANSLATE_NOOP("actions", "&Side by side…"), "board", "tiles", "Ctrl+2"),
    _spec(
        "inspection.agreement",
        QT_TRANSLATE_NOOP("actions", "How graders a&gree"),
        "board",
        "board",
        "Shift+F6",
        switch=True,
    ),
    _spec("findings.show", QT_TRANSLATE_NOOP("actions", "&Findings"), "board", "board", "Ctrl+5", switch=True),
    _spec("findings.compare", QT_TRANSLATE_NOOP("actions", "Compare with ot&her boards…"), "board", "board"),
    _spec("findings.learnt", QT_TRANSLATE_NOOP("actions", "What all boards say of a treat&ment…"), "board"),
    _spec(
        "inspection.earlier",
        QT_TRANSLATE_NOOP("actions", "Ear&lier inspection"),
        "board",
        "tiles",
        "Alt+Left",
        line=True,
    ),
    _spec("inspection.later", QT_TRANSLATE_NOOP("actions", "Later &inspection"), "board", "tiles", "Alt+Right"),
    _spec(
        "coupon.add",
        QT_TRANSLATE_NOOP("actions", "Add &coupon…"),
        "board",
        "own tiles",
        "Ctrl+Shift+A",
        line=True,
    ),
    _spec("coupon.leave_out", QT_TRANSLATE_NOOP("actions", "Lea&ve out of the findings…"), "board", "coupon"),
    _spec("coupon.take_back_in", QT_TRANSLATE_NOOP("actions", "Ta&ke back into the findings"), "board", "left out"),
    _spec("board.plan", QT_TRANSLATE_NOOP("actions", "&Plan"), "board", "board", "F9", switch=True, line=True),
    _spec("board.treatments", QT_TRANSLATE_NOOP("actions", "&Treatments…"), "board", "writable"),
    _spec("board.row", QT_TRANSLATE_NOOP("actions", "This ro&w…"), "board", "own tiles", line=True),
    _spec("board.column", QT_TRANSLATE_NOOP("actions", "This colum&n…"), "board", "own tiles"),
    _spec("board.add_row", QT_TRANSLATE_NOOP("actions", "Add r&ow at the bottom"), "board", "writable"),
    _spec("board.add_column", QT_TRANSLATE_NOOP("actions", "Add col&umn at the right"), "board", "writable"),
    _spec("board.edit", QT_TRANSLATE_NOOP("actions", "&Describe the board…"), "board", "writable", line=True),
    _spec("photos.show", QT_TRANSLATE_NOOP("actions", "&Photos day by day"), "photos", "board", "F8", switch=True),
    _spec("photos.measure", QT_TRANSLATE_NOOP("actions", "&Measure the rust"), "photos", "own photo"),
    _spec(
        "photos.add", QT_TRANSLATE_NOOP("actions", "&Add photos…"), "photos", "writable", "Ctrl+Shift+I", line=True
    ),
    _spec("photos.paste", QT_TRANSLATE_NOOP("actions", "Paste p&hotos"), "photos", "writable", "Ctrl+V"),
    _spec("photos.time", QT_TRANSLATE_NOOP("actions", "Photos' &time…"), "photos", "own photo"),
    _spec("photos.belongs", QT_TRANSLATE_NOOP("actions", "Belongs to &inspection…"), "photos", "own photo"),
    _spec("photos.remove", QT_TRANSLATE_NOOP("actions", "&Remove this photo"), "photos", "own photo"),
    _spec("photos.find", QT_TRANSLATE_NOOP("actions", "&Find missing photos…"), "photos", "own photo"),
    _spec("photos.next", QT_TRANSLATE_NOOP("actions", "&Next photo from the same place…"), "photos", "photo"),
    _spec(
        "photos.place",
        QT_TRANSLATE_NOOP("actions", "Where the &board is in the photo…"),
        "photos",
        "photo",
        "F7",
        line=True,
    ),
    _spec(
        "photos.outlines", QT_TRANSLATE_NOOP("actions", "&Outlines of the coupons…"), "photos", "board", "Shift+F8"
    ),
    _spec("photos.film", QT_TRANSLATE_NOOP("actions", "Time-&lapse…"), "photos", "board", line=True),
    _spec(
        "weather.show",
        QT_TRANSLATE_NOOP("actions", "&Weather and exposure"),
        "weather",
        "board",
        "Ctrl+3",
        switch=True,
    ),
    _spec(
        "weather.between",
        QT_TRANSLATE_NOOP("actions", "What happened &before this inspection…"),
        "weather",
        "board",
        "Ctrl+4",
    ),
    _spec(
        "weather.quiet_day",
        QT_TRANSLATE_NOOP("actions", "&Nothing happened today (dry)"),
        "weather",
        "writable",
        "Ctrl+Shift+0",
        line=True,
    ),
    _spec("weather.day", QT_TRANSLATE_NOOP("actions", "Weather of a &day…"), "weather", "writable", "Ctrl+Shift+W"),
    _spec("weather.day_log", QT_TRANSLATE_NOOP("actions", "Day &log…"), "weather", "board", "Ctrl+D"),
    _spec("weather.add", QT_TRANSLATE_NOOP("actions", "Add a logger's &file…"), "weather", "writable", line=True),
    _spec("weather.site", QT_TRANSLATE_NOOP("actions", "&Site and clock…"), "weather", "writable"),
    _spec("weather.weigh", QT_TRANSLATE_NOOP("actions", "Wei&gh a coupon…"), "weather", "writable", line=True),
    _spec("view.table", QT_TRANSLATE_NOOP("actions", "As a &table"), "view", "tiles", "Ctrl+B", switch=True),
    _spec("view.timeline", QT_TRANSLATE_NOOP("actions", "T&imeline"), "view", "tiles", "Ctrl+L", switch=True),
    _spec("view.large_keys", QT_TRANSLATE_NOOP("actions", "Large ke&ys, for gloves"), "view", switch=True, line=True),
    _spec("view.say_grades", QT_TRANSLATE_NOOP("actions", "Say &each grade (screen reader)"), "view", switch=True),
    _spec("view.system", QT_TRANSLATE_NOOP("actions", "Colours of the &desktop"), "view", switch=True, line=True),
    _spec("view.light", QT_TRANSLATE_NOOP("actions", "&Light"), "view", switch=True),
    _spec("view.dark", QT_TRANSLATE_NOOP("actions", "Dar&k"), "view", switch=True),
    _spec("view.sunlight", QT_TRANSLATE_NOOP("actions", "&Sunlight (high contrast)"), "view", switch=True),
    _spec("help.keys", QT_TRANSLATE_NOOP("actions", "&Keys…"), "help", "always", "F1"),
    _spec("help.practice", QT_TRANSLATE_NOOP("actions", "Practise &grading…"), "help"),
    _spec("help.about", QT_TRANSLATE_NOOP("actions", "&About Rustboard…"), "help"),
)

MENUS: Final[tuple[tuple[Menu, str], ...]] = (
    ("file", str(QT_TRANSLATE_NOOP("actions", "&File"))),
    ("edit", str(QT_TRANSLATE_NOOP("actions", "&Edit"))),
    ("board", str(QT_TRANSLATE_NOOP("actions", "&Board"))),
    ("photos", str(QT_TRANSLATE_NOOP("actions", "&Photos"))),
    ("weather", str(QT_TRANSLATE_NOOP("actions", "Wea&ther"))),
    ("view", str(QT_TRANSLATE_NOOP("actions", "&View"))),
    ("help", str(QT_TRANSLATE_NOOP("actions", "&Help"))),
)


class ActionSet(QObject):
    """The actions of one window.

    Attributes:
        by_id: the actions.
    """

    def __init__(
        self, window: QWidget, handlers: Mapping[str, Callable[[], object]], first: Callable[[], object] | None = None
    ) -> None:
        """Make every action of the table; each id needs a handler, and ``first`` is called before any of them."""
        super().__init__(window)
        self.by_id: dict[str, QAction] = {}
        for spec in ACTIONS:
            action = QAction(QCoreApplication.translate("actions", spec.text), window)
            action.setObjectName(spec.id)
            action.setCheckable(spec.checkable)
            action.setShortcuts([QKeySequence(each) for each in spec.keys])
            self.by_id[spec.id] = action
            window.addAction(action)
        self._wire(handlers, first)

    def _wire(self, handlers: Mapping[str, Callable[[], object]], first: Callable[[], object] | None) -> None:
        for name, action in self.by_id.items():
            if first is not None:
                action.triggered.connect(first)
            action.triggered.connect(handlers[name])

    def fill(self, bar: QMenuBar) -> None:
        """Put the actions into a menu bar."""
        for name, title in MENUS:
            menu = bar.addMenu(QCoreApplication.translate("actions", title))
            self.fill_menu(menu, tuple(each.id for each in ACTIONS if each.menu == name))

    def fill_menu(self, menu: QMenu, names: tuple[str, ...]) -> None:
        """Put some actions into a menu, in the order given."""
        lines = {each.id for each in ACTIONS if each.separated}
        for name in names:
            if name in lines and not menu.isEmpty():
                menu.addSeparator()
            menu.addAction(self.by_id[name])

    def enable(self, true: set[When]) -> None:
        """Enable what can be done while these things are so."""
        for spec in ACTIONS:
            self.by_id[spec.id].setEnabled(spec.when in true)

    def rows(self) -> list[tuple[str, str]]:
        """Return text and keys of every action that has keys, for the list of keys."""
        native = QKeySequence.SequenceFormat.NativeText
        return [
            (action.text().replace("&", ""), ", ".join(each.toString(native) for each in action.shortcuts()))
            for action in self.by_id.values()
            if action.shortcuts()
        ]
