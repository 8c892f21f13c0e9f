"""The house rules, read from the source itself."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest
from django.urls import get_resolver

ROOT = Path(__file__).resolve().parent.parent
OURS = ("workshop", "parts", "inspections", "demo_fixtures")
MOST_LINES = 400


def module_name(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


SOURCES = {module_name(path): path for top in OURS for path in sorted((ROOT / top).rglob("*.py"))}


def imported(module: str) -> Iterator[str]:
    """Every module that this one imports, wherever in it; `from x import y` gives x.y if that is a module, else x."""
    path = SOURCES[module]
    package = module if path.name == "__init__.py" else module.rpartition(".")[0]
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package.split(".")[: len(package.split(".")) - node.level + 1] if node.level else []
            base = ".".join([*above, *([node.module] if node.module else [])])
            yield from (f"{base}.{a.name}" if f"{base}.{a.name}" in SOURCES else base for a in node.names)


def within(module: str, *packages: str) -> bool:
    return any(module == package or module.startswith(package + ".") for package in packages)


def is_domain(module: str) -> bool:
    return "domain" in module.split(".")


def breaches(modules, allowed) -> list[str]:
    return [f"{m} imports {i}" for m in modules for i in imported(m) if not allowed(m, i)]


def test_the_reader_of_imports_reads_them():
    """The other tests here would pass on a reader that sees nothing."""
    assert "django.conf" in set(imported("workshop.server"))
    assert "workshop.data_folder" in set(imported("workshop.settings"))
    assert "workshop.backups.swapping" in set(imported("workshop.backups.restoring"))


def test_domain_is_plain_python():
    libraries = set(sys.stdlib_module_names) | {"numpy", "networkx", "pint"}

    def allowed(module, name):
        return name.split(".")[0] in libraries or is_domain(name) or within(name, module.split(".domain")[0] + ".data")

    assert breaches(filter(is_domain, SOURCES), allowed) == []


def test_domain_has_no_circle():
    graph = networkx.DiGraph((m, i) for m in SOURCES if is_domain(m) for i in imported(m) if is_domain(i) and i != m)
    assert list(networkx.simple_cycles(graph)) == []


def test_domain_asks_no_clock():
    """Today's date is an argument there, so that a rule gives the same answer to a test, a screen and a report."""
    asked = [
        f"{module}: {node.func.attr}()"
        for module in filter(is_domain, SOURCES)
        for node in ast.walk(ast.parse(SOURCES[module].read_text("utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in ("today", "now")
    ]
    assert asked == []


def test_roles_import_nothing_of_ours():
    assert breaches(["workshop.roles"], lambda m, i: not within(i, *OURS)) == []


def test_parts_stand_below_inspections():
    def allowed(module, name):
        return is_domain(name) or not within(name, "inspections")

    assert breaches([m for m in SOURCES if within(m, "parts")], allowed) == []


def test_parts_and_inspections_know_only_roles_and_access_of_workshop():
    def allowed(module, name):
        return not within(name, "workshop", "demo_fixtures") or within(name, "workshop.roles", "workshop.access")

    apps = [m for m in SOURCES if within(m, "parts", "inspections") and ".management." not in m]
    assert breaches(apps, allowed) == []


@pytest.mark.parametrize("app", ["parts", "inspections"])
def test_models_then_actions_then_views(app):
    layers = [f"{app}.models", f"{app}.actions", f"{app}.views"]

    def allowed(module, name):
        depth = next(i for i, layer in enumerate(layers) if within(module, layer))
        return not within(name, *layers[depth + 1 :], f"{app}.urls")

    assert breaches([m for m in SOURCES if within(m, *layers)], allowed) == []


def test_only_actions_change_a_state():
    """An assignment to `.state`, outside the one package that checks, writes and logs together."""
    changed = [
        f"{module}, line {node.lineno}"
        for module, path in SOURCES.items()
        if not within(module, "parts.actions") and not is_domain(module)
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, (ast.Assign, ast.AugAssign, ast.AnnAssign))
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Attribute) and target.attr == "state"
    ]
    assert changed == []


def test_no_file_is_too_long_to_read():
    tops = [ROOT / top for top in (*OURS, "tests", "templates", "static")]
    files = [path for top in tops for ending in ("py", "html", "css", "js") for path in top.rglob(f"*.{ending}")]
    files += ROOT.glob("*.py")
    too_long = {
        str(path.relative_to(ROOT)): lines
        for path in files
        if "vendor" not in path.parts and "migrations" not in path.parts
        if (lines := len(path.read_text("utf-8").splitlines())) > MOST_LINES
    }
    assert too_long == {}


def routes(patterns, prefix="") -> Iterator[tuple[str, object]]:
    for pattern in patterns:
        if hasattr(pattern, "url_patterns"):
            yield from routes(pattern.url_patterns, prefix + str(pattern.pattern))
        else:
            yield prefix + str(pattern.pattern), pattern.callback


def test_every_route_says_who_may_use_it():
    """Each view stands under a decorator of workshop.access, "anyone" included."""
    every = list(routes(get_resolver().url_patterns))
    assert len(every) > 5
    assert [route for route, view in every if not hasattr(view, "may_use")] == []


def test_nothing_is_left_to_do_later():
    marks = ["TO" + "DO", "FIX" + "ME", "X" * 3]
    left = [
        f"{path.relative_to(ROOT)}: {mark}"
        for top in (*OURS, "tests", "templates")
        for path in (ROOT / top).rglob("*")
        if path.suffix in (".py", ".html")
        for mark in marks
        if mark in path.read_text("utf-8")
    ]
    assert left == []
