"""Reads the source for rows that are saved whole, and whether each was held first: what somebody else wrote meanwhile
would be written over.

A row is held if it was read with `select_for_update`, by a function that gives it so, or given to `hold`; it is new if
it was made there. A row that a function is given must be one of these wherever that function is called.
"""

import ast
from collections.abc import Iterator
from functools import cache

Function = ast.FunctionDef
GIVE = {"select_for_update", "create", "get_or_create", "model", "get_user_model"}
"""What gives a row that is held or new, before those are found that use it; `model` is a model as a value."""


def called(call: ast.Call) -> str:
    """The last word of what is called; of a call of what a call gives, nothing."""
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


@cache
def nodes(text: str) -> list[ast.AST]:
    """Of a source, which many ask for."""
    return list(ast.walk(ast.parse(text)))


@cache
def within(node: ast.AST) -> list[ast.AST]:
    """Looked through once: what gives a held row is asked again until no more is found."""
    return list(ast.walk(node))


@cache
def calls(node: ast.AST) -> list[ast.Call]:
    return [one for one in within(node) if isinstance(one, ast.Call)]


@cache
def names(node: ast.AST) -> set[str]:
    return {one.id for one in ast.walk(node) if isinstance(one, ast.Name)}


@cache
def returned(function: Function) -> list[ast.expr]:
    return [one.value for one in within(function) if isinstance(one, ast.Return) and one.value]


def parameters(function: Function) -> list[str]:
    return [one.arg for one in (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs)]


@cache
def bound(function: Function) -> list[tuple[ast.expr, ast.expr]]:
    """What is given a name, and what it is."""
    return list(_bound(function))


def _bound(function: Function) -> Iterator[tuple[ast.expr, ast.expr]]:
    for node in within(function):
        if isinstance(node, ast.Assign):
            yield from ((target, node.value) for target in node.targets)
        elif isinstance(node, (ast.NamedExpr, ast.AnnAssign)) and node.value:
            yield node.target, node.value
        elif isinstance(node, (ast.For, ast.comprehension)):
            yield node.target, node.iter


def known_as(module: str, function: Function) -> str:
    """One with an underscore is known in its own module."""
    return f"{module} {function.name}" if function.name.startswith("_") else function.name


@cache
def ways_to_name(module: str, call: ast.Call) -> set[str]:
    return {called(call), f"{module} {called(call)}"}


class Source:
    """Every function of these modules, and the names of the models that they write."""

    def __init__(self, modules: dict[str, str], models: set[str]):
        self.functions = [
            (module, node) for module, text in modules.items() for node in nodes(text) if isinstance(node, Function)
        ]
        self.give = GIVE | models
        answering = [one for one in self.functions if returned(one[1])]
        while more := {known_as(*one) for one in answering if self._gives(*one)} - self.give:
            self.give |= more
        self.hold = {"hold"} | {known_as(*one) for one in self.functions if self._holds(*one)}

    def saved_unheld(self) -> list[str]:
        return [
            f"{module}, line {call.lineno}: {ast.unparse(call)}"
            for module, function in self.functions
            for call in calls(function)
            if isinstance(call.func, ast.Attribute) and called(call) == "save"
            if not call.args and not call.keywords  # a form, a picture, and the fields of a row are given something
            if not self._is_safe(module, function, call.func.value)
        ]

    def _gives(self, module: str, function: Function) -> bool:
        """A row that is held or new."""
        safe = self._safe_names(module, function)
        return any(self._comes(value, module, safe) for value in returned(function))

    def _holds(self, module: str, function: Function) -> bool:
        return any(called(call) == "hold" and names(call) & set(parameters(function)) for call in calls(function))

    def _safe_names(self, module: str, function: Function) -> set[str]:
        hold = getattr(self, "hold", {"hold"})
        safe = {name for call in calls(function) if hold & ways_to_name(module, call) for name in names(call)}
        before = None
        while before != safe:
            before = set(safe)
            for target, value in bound(function):
                if self._comes(value, module, safe):
                    safe |= names(target)
        return safe

    def _comes(self, value: ast.expr, module: str, safe: set[str]) -> bool:
        """Out of a lock, or new: by a call, or under a name that has it so."""
        match value:
            case ast.Name():
                return value.id in safe
            case ast.Tuple():
                return any(self._comes(one, module, safe) for one in value.elts)
            case ast.IfExp():
                return self._comes(value.body, module, safe)
            case ast.BoolOp():
                return all(self._comes(one, module, safe) for one in value.values)
            case ast.ListComp():
                return self._comes(value.generators[0].iter, module, safe)
            case ast.Call(func=ast.Name(id="list"), args=[inner]):
                return self._comes(inner, module, safe)
            case ast.Call():
                return bool(self.give & ways_to_name(module, value)) or self._comes(value.func, module, safe)
            case ast.Attribute():
                return isinstance(value.value, ast.Call) and self._comes(value.value, module, safe)
        return False

    def _is_safe(self, module: str, function: Function, row: ast.expr, seen: tuple = ()) -> bool:
        if self._comes(row, module, self._safe_names(module, function)):
            return True
        if not isinstance(row, ast.Name) or row.id not in parameters(function):
            return False
        given = [] if function in seen else list(self._given(module, function, row.id))
        return bool(given or function in seen) and all(self._is_safe(*one, (*seen, function)) for one in given)

    def _given(self, module: str, function: Function, name: str) -> Iterator[tuple[str, Function, ast.expr]]:
        """What it is wherever the function is called."""
        place = parameters(function).index(name)
        for where, caller in self.functions:
            for call in calls(caller):
                if known_as(module, function) in ways_to_name(where, call):
                    by_name = [word.value for word in call.keywords if word.arg == name]
                    yield from ((where, caller, value) for value in by_name or call.args[place : place + 1])
