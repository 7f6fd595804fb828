"""The straightened board with everything that has an outline on it, to draw, drag, turn and nudge."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter
from PySide6.QtWidgets import QWidget

from rustboard.board.model import Outline
from rustboard.board.outline import bounds
from rustboard.ui.outlines.drawing import Drawing
from rustboard.ui.outlines.handles import (
    INSIDE,
    KNOB,
    NOTHING,
    angle_of,
    handle_points,
    handle_under,
    is_few_points,
)
from rustboard.ui.outlines.painting import ShapesPainter, ShapesView
from rustboard.ui.outlines.parts import Part
from rustboard.ui.outlines.shapes import (
    ShapeKind,
    holds,
    kind_of,
    moved,
    side_near,
    turned,
    with_corner,
    with_point_after,
    without_point,
)
from rustboard.ui.theme import Scheme
from rustboard.ui.zooming.ink import GRAB_PX

STEP_MM: Final = 0.5
FAR_STEP_MM: Final = 5.0
_TURN_DEG: Final = 0.5
_SETTLE_MS: Final = 700
_STILL_PX: Final = 3.0
_ARROWS: Final = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class OutlinesView(ShapesView):
    """Edits one shape at a time; a gesture, or a run of keys, ends in one `edited`.

    Signals:
        part_tapped(object): another `Part` was tapped.
        edited(object): the chosen part has this outline now.
        drawn(object): a new outline was drawn with the tool in hand.
        moved_on(): the point under the keyboard or the shape on the screen changed.

    Attributes:
        painter: how it is painted. shapes: all outlines by part. chosen: the part being edited.
        point: number of the point under the keyboard, `INSIDE` for the whole shape.
        free: whether a rectangle's corners move one by one.
    """

    part_tapped = Signal(object)
    edited = Signal(object)
    drawn = Signal(object)
    moved_on = Signal()

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without shapes."""
        super().__init__(scheme, parent)
        self.painter = ShapesPainter()
        self.shapes: dict[Part, Outline] = {}
        self.chosen: Part | None = None
        self.point = INSIDE
        self.free = False
        self.editable = True
        self._drawing: Drawing | None = None
        self._held = NOTHING
        self._from = QPointF()
        self._before: Outline = ()
        self._pending = False
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(_SETTLE_MS)
        self._wire()

    def _wire(self) -> None:
        self._settle.timeout.connect(self.finish)

    # ---- what is shown

    def show_shapes(self, shapes: Mapping[Part, Outline], chosen: Part | None) -> None:
        """Show other shapes."""
        self._pending = False
        self._settle.stop()
        if chosen != self.chosen:
            self.point, self.free = INSIDE, False
        self.shapes, self.chosen = dict(shapes), chosen
        if self.point >= len(self.outline()):
            self.point = INSIDE
        self._tell()

    def outline(self) -> Outline:
        """Return the chosen shape as it is on the screen, or nothing."""
        return self.shapes.get(self.chosen, ()) if self.chosen is not None else ()

    def take_tool(self, kind: ShapeKind | None) -> None:
        """Take a tool to draw with into the hand, or put it away."""
        self.finish()
        self._drawing = None if kind is None else Drawing(kind)
        self.setCursor(Qt.CursorShape.CrossCursor if kind is not None else Qt.CursorShape.ArrowCursor)
        self._tell()

    def tool(self) -> ShapeKind | None:
        """Return what is drawn with, or None."""
        return None if self._drawing is None else self._drawing.kind

    def close_polygon(self) -> None:
        """End a polygon that is tapped point by point."""
        outline = self._drawing.outline() if self._drawing is not None else ()
        if outline:
            self.drawn.emit(outline)

    @Slot()
    def finish(self) -> None:
        """Have keys pressed in a run kept as one change."""
        self._settle.stop()
        if self._pending:
            self._pending = False
            self.edited.emit(self.outline())

    def change(self, outline: Outline) -> None:
        """Show the chosen shape changed; `finish` has it kept."""
        if self.chosen is not None and outline and self.editable:
            self.shapes[self.chosen] = outline
            self._pending = True
            self._tell()

    def _tell(self) -> None:
        self.moved_on.emit()
        self.update()

    # ---- mouse and touch

    def press(self, point: QPointF, event: QMouseEvent) -> bool:
        """Draw, take hold of the chosen shape, or choose another."""
        self.finish()
        place = self.to_picture(point)
        if self._drawing is not None:
            return self._press_drawing(point, (place.x(), place.y()))
        outline = self.outline()
        held = handle_under(self, outline, point) if outline and self.editable else NOTHING
        if held in (INSIDE, NOTHING):
            under = self._part_under(place)
            if under is not None and under != self.chosen and (held == NOTHING or under.kind == "area"):
                self.part_tapped.emit(under)
                return True
        if held == NOTHING:
            return False
        self._held, self._from, self._before = held, point, outline
        self.point = held if held >= 0 else INSIDE
        self._tell()
        return True

    def _press_drawing(self, point: QPointF, place: tuple[float, float]) -> bool:
        drawing = self._drawing
        if drawing is None:
            return False
        if drawing.kind == "polygon" and len(drawing.points) >= 3:
            first = self.to_widget(*drawing.points[0]) - point
            if QPointF.dotProduct(first, first) ** 0.5 <= GRAB_PX:
                self.close_polygon()
                return True
        drawing.begin(place)
        self._tell()
        return True

    def _part_under(self, place: QPointF) -> Part | None:
        at = (place.x(), place.y())
        under = [part for part, outline in self.shapes.items() if holds(outline, at)]
        return under[-1] if under else None

    def drag(self, point: QPointF, event: QMouseEvent) -> None:
        """Go on drawing or dragging."""
        place = self.to_picture(point)
        if self._drawing is not None:
            self._drawing.move((place.x(), place.y()))
            self._tell()
            return
        away = point - self._from
        if self._held == NOTHING or (not self._pending and QPointF.dotProduct(away, away) ** 0.5 < _STILL_PX):
            return
        start = self.to_picture(self._from)
        if self._held == INSIDE:
            self.change(moved(self._before, place.x() - start.x(), place.y() - start.y()))
        elif self._held == KNOB:
            self.change(turned(self._before, angle_of(self._before, place) - angle_of(self._before, start)))
        else:
            x, y = self._before[self._held]
            to = (x + place.x() - start.x(), y + place.y() - start.y())
            self.change(with_corner(self._before, self._held, to, free=self.free))

    def release(self, point: QPointF, event: QMouseEvent) -> None:
        """End what was drawn or dragged."""
        self._held = NOTHING
        drawing = self._drawing
        if drawing is None:
            self.finish()
        elif drawing.kind != "polygon":
            outline = drawing.outline()
            if outline:
                self.drawn.emit(outline)
            else:
                drawing.points.clear()
                self._tell()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Add a point on the side that was clicked twice; end a polygon."""
        if self._drawing is not None:
            self.close_polygon()
            return
        place, outline = self.to_picture(event.position()), self.outline()
        if not outline or not self.editable or not is_few_points(outline):
            return
        side, away, foot = side_near(outline, (place.x(), place.y()))
        if away * self.px_per_unit() <= GRAB_PX:
            self.change(with_point_after(outline, side, foot))
            self.point = side + 1
            self.finish()

    # ---- keys

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Walk from the whole shape through its points by Tab, then out."""
        outline = self.outline()
        stops = [INSIDE, *handle_points(outline)] if outline and self.editable else []
        here = stops.index(self.point) if self.point in stops else 0
        after = here + (1 if forward else -1)
        if stops and 0 <= after < len(stops):
            self.finish()
            self.point = stops[after]
            if self.point >= 0:
                self.see(*outline[self.point])
            self._tell()
            return True
        self.finish()
        return super().focusNextPrevChild(forward)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Nudge, turn, add and take points; Enter closes a polygon, Esc puts the tool away."""
        key, outline = Qt.Key(event.key()), self.outline()
        far = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if self._drawing is not None and self._drawing_key(key):
            return
        if not outline or not self.editable:
            super().keyPressEvent(event)
        elif key in _ARROWS:
            self._nudge(*_ARROWS[key], FAR_STEP_MM if far else STEP_MM)
        elif key in (Qt.Key.Key_BracketLeft, Qt.Key.Key_BracketRight):
            self.change(turned(outline, _TURN_DEG if key == Qt.Key.Key_BracketRight else -_TURN_DEG))
            self._settle.start()
        elif key == Qt.Key.Key_Insert:
            self.add_point()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace) and self.point >= 0:
            self.remove_point()
        else:
            super().keyPressEvent(event)

    def _drawing_key(self, key: Qt.Key) -> bool:
        drawing = self._drawing
        if drawing is None:
            return False
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.close_polygon()
        elif key == Qt.Key.Key_Backspace:
            drawing.step_back()
            self._tell()
        elif key == Qt.Key.Key_Escape:
            self.take_tool(None)
        else:
            return False
        return True

    def _nudge(self, right: int, down: int, by: float) -> None:
        outline = self.outline()
        if self.point < 0:
            self.change(moved(outline, right * by, down * by))
        else:
            x, y = outline[self.point]
            self.change(with_corner(outline, self.point, (x + right * by, y + down * by), free=self.free))
        left, top, right_edge, bottom = bounds(self.outline())
        place = self.outline()[self.point] if self.point >= 0 else ((left + right_edge) / 2, (top + bottom) / 2)
        self.see(*place)
        self._settle.start()

    @Slot()
    def add_point(self) -> None:
        """Add a point after the one under the keyboard."""
        outline = self.outline()
        if outline and self.editable and is_few_points(outline):
            self.finish()
            number = max(self.point, 0)
            self.point = number + 1
            self.change(with_point_after(outline, number))
            self.finish()

    @Slot()
    def remove_point(self) -> None:
        """Take the point under the keyboard away."""
        outline = self.outline()
        if 0 <= self.point < len(outline) and len(outline) > 3 and self.editable and kind_of(outline) != "disc":
            self.finish()
            kept = without_point(outline, self.point)
            self.point = min(self.point, len(kept) - 1)
            self.change(kept)
            self.finish()

    # ---- painting

    def paint_over(self, painter: QPainter) -> None:
        """Paint all shapes, the chosen one last."""
        self.painter.paint(painter, self, QRectF(self.rect()))
        if self._drawing is not None:
            self.painter.paint_drawing(painter, self, self._drawing)
        elif self.hasFocus() and 0 <= self.point < len(self.outline()) and self._held >= 0:
            self.painter.paint_nearer(painter, self, self.outline()[self.point])
