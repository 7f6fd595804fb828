"""The house rules that no linter knows, each as a function from a source file to its offences."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import PurePosixPath

PRODUCT_FILE_LINES = 400
TEST_FILE_LINES = 600
CLASS_METHODS = 25
FUNCTION_LINES = 60
MEANINGLESS_NAMES = frozenset({"utils", "util", "helpers", "helper", "misc", "common", "tools", "stuff"})
TRANSLATING_CALLS = frozenset({"tr", "translate", "QT_TR_NOOP", "QT_TRANSLATE_NOOP"})

FunctionNode = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Source:
    """One file: its path from the root of the checkout, and its text."""

    path: PurePosixPath
    text: str

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text, str(self.path))


Rule = Callable[[Source], list[str]]


def _at(source: Source, node: ast.AST, complaint: str) -> str:
    return f"{source.path}:{getattr(node, 'lineno', 1)}: {complaint}"


def _functions(tree: ast.AST) -> Iterator[FunctionNode]:
    return (node for node in ast.walk(tree) if isinstance(node, FunctionNode))


def _called_name(call: ast.Call) -> str:
    """Return the last part of what is called: ``connect`` for ``a.b.connect(...)``."""
    called = call.func
    return called.attr if isinstance(called, ast.Attribute) else called.id if isinstance(called, ast.Name) else ""


def _signal_connections(tree: ast.AST) -> Iterator[ast.Call]:
    calls = (node for node in ast.walk(tree) if isinstance(node, ast.Call))
    return (call for call in calls if isinstance(call.func, ast.Attribute) and call.func.attr == "connect")


def long_files(source: Source) -> list[str]:
    limit = TEST_FILE_LINES if source.path.parts[0] == "tests" else PRODUCT_FILE_LINES
    count = len(source.text.splitlines())
    return [f"{source.path}: {count} lines, at most {limit}"] if count > limit else []


def big_classes(source: Source) -> list[str]:
    offences = []
    for node in ast.walk(source.tree):
        if isinstance(node, ast.ClassDef):
            count = sum(isinstance(child, FunctionNode) for child in node.body)
            if count > CLASS_METHODS:
                offences.append(_at(source, node, f"class {node.name} has {count} methods, at most {CLASS_METHODS}"))
    return offences


def long_functions(source: Source) -> list[str]:
    spans = ((node, (node.end_lineno or node.lineno) - node.lineno + 1) for node in _functions(source.tree))
    return [
        _at(source, node, f"{node.name} has {span} lines, at most {FUNCTION_LINES}")
        for node, span in spans
        if span > FUNCTION_LINES
    ]


def modules_without_docstring(source: Source) -> list[str]:
    return [] if ast.get_docstring(source.tree) else [f"{source.path}: no docstring"]


def meaningless_names(source: Source) -> list[str]:
    return [f"{source.path}: the name says nothing" for part in source.path.parts if _stem(part) in MEANINGLESS_NAMES]


def _stem(part: str) -> str:
    return part.removesuffix(".py").strip("_")


def anonymous_receivers(source: Source) -> list[str]:
    """Lambdas and partials keep what they hold alive and run on the sender's thread: no receivers for signals."""
    return [
        _at(source, call, "a lambda or partial receives a signal")
        for call in _signal_connections(source.tree)
        for argument in ast.walk(ast.Tuple([*call.args, *(k.value for k in call.keywords)], ast.Load()))
        if isinstance(argument, ast.Lambda)
        or (isinstance(argument, ast.Call) and _called_name(argument) == "partial")
    ]


def scattered_connections(source: Source) -> list[str]:
    tree = source.tree
    wiring = [f for f in _functions(tree) if f.name == "__init__" or f.name.startswith("_wire")]
    wired = {call for function in wiring for call in _signal_connections(function)}
    return [
        _at(source, call, "signals are connected in __init__ or a _wire... method only")
        for call in _signal_connections(tree)
        if call not in wired
    ]


def undecorated_slots(source: Source) -> list[str]:
    """A method of the class itself that receives a signal is marked with ``@Slot``."""
    offences = []
    for owner in (node for node in ast.walk(source.tree) if isinstance(node, ast.ClassDef)):
        methods = {node.name: node for node in owner.body if isinstance(node, FunctionNode)}
        for call in _signal_connections(owner):
            for argument in call.args:
                name = _own_method(argument)
                if name in methods and not _is_slot(methods[name]):
                    offences.append(_at(source, call, f"{owner.name}.{name} receives a signal without @Slot"))
    return offences


def _own_method(argument: ast.expr) -> str:
    if isinstance(argument, ast.Attribute) and isinstance(argument.value, ast.Name) and argument.value.id == "self":
        return argument.attr
    return ""


def _is_slot(method: FunctionNode) -> bool:
    names = (d.func if isinstance(d, ast.Call) else d for d in method.decorator_list)
    return any(getattr(name, "id", getattr(name, "attr", "")) == "Slot" for name in names)


def untranslatable_texts(source: Source) -> list[str]:
    """The translator's tool reads literals only: fill in values after the call, never inside it."""
    calls = (node for node in ast.walk(source.tree) if isinstance(node, ast.Call))
    return [
        _at(source, call, "the text of a translation is put together inside the call")
        for call in calls
        if _called_name(call) in TRANSLATING_CALLS and any(map(_is_put_together, call.args))
    ]


def _is_put_together(argument: ast.expr) -> bool:
    if isinstance(argument, ast.BinOp):
        return isinstance(argument.op, ast.Mod | ast.Add) and any(
            isinstance(side, ast.Constant) and isinstance(side.value, str) for side in (argument.left, argument.right)
        )
    formatted = isinstance(argument, ast.Call) and _called_name(argument) == "format"
    return formatted or isinstance(argument, ast.JoinedStr)


EVERYWHERE: tuple[Rule, ...] = (long_files, modules_without_docstring, meaningless_names)
PRODUCT: tuple[Rule, ...] = (*EVERYWHERE, big_classes, long_functions, untranslatable_texts)
SCREENS: tuple[Rule, ...] = (anonymous_receivers, scattered_connections, undecorated_slots)


def rules_for(path: PurePosixPath) -> tuple[Rule, ...]:
    """Return the rules for a file of the checkout. There is no list of exceptions, and there shall be none."""
    if path.parts[0] == "tests":
        return EVERYWHERE
    return (*PRODUCT, *SCREENS) if path.parts[:2] == ("rustboard", "ui") else PRODUCT
