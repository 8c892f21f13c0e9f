"""The house rules, read from the source itself."""

import ast
import re
import sys
import tokenize
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import networkx
import pytest
from django.apps import apps
from django.urls import get_resolver

from core.web.rooms import rooms
from tests.whole_rows import Source, nodes

ROOT = Path(__file__).resolve().parent.parent
OURS = ("core", "parts", "inspections", "workshop", "demo_fixtures")
"""From the floor to the roof: each may import those before it. The roof builds the demo, which uses all of them."""
MOST_LINES, MOST_LINES_OF_A_FUNCTION = 400, 60


def module_name(path: Path) -> str:
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


SOURCES = {module_name(path): path for top in OURS for path in sorted((ROOT / top).rglob("*.py"))}


@cache
def imported(module: str) -> tuple[str, ...]:
    return tuple(_imported(module))


def _imported(module: str) -> Iterator[str]:
    """Every module that this one imports, wherever in it; `from x import y` gives x.y if that is a module, else x."""
    path = SOURCES[module]
    package = module if path.name == "__init__.py" else module.rpartition(".")[0]
    for node in nodes(path.read_text("utf-8")):
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
    assert "django.conf" in set(imported("workshop.serving.server"))
    assert "core.disk.data_folder" in set(imported("workshop.settings"))
    assert "workshop.backups.swapping" in set(imported("workshop.backups.restoring"))


def test_domain_is_plain_python():
    libraries = set(sys.stdlib_module_names) | {"numpy", "networkx", "pint", "openpyxl"}

    def allowed(module, name):
        return (
            name.split(".")[0] in libraries
            or is_domain(name)
            or name == "core.roles"
            or within(name, module.split(".domain")[0] + ".data")
        )

    assert breaches(filter(is_domain, SOURCES), allowed) == []


def test_domain_has_no_circle():
    graph = networkx.DiGraph((m, i) for m in SOURCES if is_domain(m) for i in imported(m) if is_domain(i) and i != m)
    assert list(networkx.simple_cycles(graph)) == []


def test_domain_asks_no_clock():
    """Today's date is an argument there, so that a rule gives the same answer to a test, a screen and a report."""
    asked = [
        f"{module}: {node.func.attr}()"
        for module in filter(is_domain, SOURCES)
        for node in nodes(SOURCES[module].read_text("utf-8"))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in ("today", "now")
    ]
    assert asked == []


def test_roles_import_nothing_of_ours():
    assert breaches(["core.roles"], lambda m, i: not within(i, *OURS)) == []


def test_apps_stand_on_each_other_one_way():
    """What everybody stands on knows nothing of what stands on it; a rule in plain Python is asked from anywhere."""

    def allowed(module, name):
        app = name.split(".")[0]
        if (module, name) == ("workshop.serving.demo", "demo_fixtures.build"):
            return True
        return app not in OURS or is_domain(name) or OURS.index(app) <= OURS.index(module.split(".")[0])

    assert breaches(SOURCES, allowed) == []


LAYERS = {
    "core": ("roles", "models"),
    "parts": ("models", "queries", "facts", "actions", "common"),
    "inspections": ("models",),
}
"""Of an app, the lowest first; above them stand its rooms, side by side."""


def part_of(module: str) -> str:
    """The layer or the room of a module: parts.models, parts.stores."""
    return ".".join(module.split(".")[:2])


@pytest.mark.parametrize("app", LAYERS)
def test_rooms_stand_on_layers(app):
    layers = [f"{app}.{layer}" for layer in LAYERS[app]]

    def depth(module):
        return layers.index(part_of(module)) if part_of(module) in layers else len(layers)

    def allowed(module, name):
        return name.split(".")[0] != app or is_domain(name) or depth(name) <= depth(module)

    modules = [m for m in SOURCES if within(m, app) and not is_domain(m)]
    assert breaches(modules, allowed) == []


def test_rooms_import_each_other_one_way():
    graph = networkx.DiGraph(
        (part_of(module), part_of(name))
        for module in SOURCES
        for name in imported(module)
        if name in SOURCES and not is_domain(module) and not is_domain(name)
    )
    graph.remove_edges_from(list(networkx.selfloop_edges(graph)))
    assert len(graph) > 40
    assert list(networkx.simple_cycles(graph)) == []


TOPS = {"__init__", "access", "apps", "checks", "facts", "middleware", "roles", "settings", "urls", "wsgi"}
"""What may lie loose at the top of an app: what Django expects, the roles, and the one read."""


def test_one_folder_for_one_subject():
    apps = [ROOT / app for app in OURS[:-1]]
    assert {path.stem for app in apps for path in app.glob("*.py")} <= TOPS
    folders = {path.parent for app in apps for path in app.rglob("*.py")}
    single = {folder for folder in folders if len([p for p in folder.glob("*.py") if p.name != "__init__.py"]) == 1}
    assert {str(folder.relative_to(ROOT)) for folder in single} == {
        "core/templatetags",
        "inspections",  # apps.py
    }


def test_a_room_with_addresses_says_so_in_its_manifest():
    named = {room.urls for room in rooms() if room.urls}
    assert named == {module for module in SOURCES if module.endswith(".urls") and module != "workshop.urls"}


def test_the_map_says_what_each_room_is_for():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    folders = {path.parent for app in OURS[:-1] for path in (ROOT / app).glob("*/__init__.py")}
    named = {path.relative_to(ROOT).as_posix() for path in folders}
    common = ("domain", "migrations", "management", "models", "templatetags")
    assert [f for f in sorted(named) if not f.endswith(common) and f"| `{f}/` |" not in text] == []


def test_templates_and_tests_lie_in_folders_named_as_the_rooms():
    parts = {part_of(module).replace(".", "/") for module in SOURCES}
    folders = {path.parent for top in ("templates", "tests") for path in (ROOT / top).rglob("test_*.py")}
    folders |= {path.parent for path in (ROOT / "templates").rglob("*.html")}
    named = {"/".join(f.relative_to(ROOT).parts[1:]) for f in folders if f.relative_to(ROOT).parts[1:2]}
    of_apps = {name for name in named if name.split("/")[0] in OURS and "/" in name and not name.endswith("/commands")}
    assert of_apps - parts == set()


def test_only_writers_change_a_state():
    """An assignment to `.state`, outside the modules that check, write and log together."""
    changed = [
        f"{module}, line {node.lineno}"
        for module, path in SOURCES.items()
        if not within(module, "parts.actions") and "writers" not in module.split(".") and not is_domain(module)
        for node in nodes(path.read_text("utf-8"))
        if isinstance(node, (ast.Assign, ast.AugAssign, ast.AnnAssign))
        for target in (node.targets if isinstance(node, ast.Assign) else [node.target])
        if isinstance(target, ast.Attribute) and target.attr == "state"
    ]
    assert changed == []


def test_a_row_that_is_saved_whole_was_held_or_is_new():
    """Else what somebody else wrote meanwhile is written over: hold it first, or name the fields."""
    models = {model.__name__ for model in apps.get_models()}
    ours = {name: path.read_text("utf-8") for name, path in SOURCES.items() if not within(name, "demo_fixtures")}
    no_rows = ("canvas.save()", "super().save()")  # a PDF is drawn
    found = Source(ours, models).saved_unheld()
    assert [one for one in found if not one.endswith(no_rows)] == []


@pytest.mark.parametrize(
    ("body", "is_told"),
    [
        ("row.save()", True),
        ("row.save(update_fields=['name'])", False),
        ("hold(row)\n row.save()", False),
        ("row = Firm.objects.get(pk=1)\n row.save()", True),
        ("row = Firm.objects.select_for_update().get(pk=1)\n row.save()", False),
        ("row = Firm(name='A')\n row.save()", False),
        ("for inside in row.inside.all():\n  inside.save()", True),
        ("_end(row)\ndef _end(one):\n one.save()", True),
        ("row = _held(row)\n row.save()\ndef _held(one):\n return one.select_for_update().get()", False),
    ],
)
def test_the_reader_of_whole_rows_reads_them(body, is_told):
    assert bool(Source({"here": f"def change(row):\n {body}"}, {"Firm"}).saved_unheld()) == is_told


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


def test_no_function_is_too_long_to_read():
    too_long = {
        f"{module}.{node.name}": lines
        for module, path in SOURCES.items()
        if "migrations" not in path.parts
        for node in nodes(path.read_text("utf-8"))
        if isinstance(node, ast.FunctionDef)
        if (lines := node.end_lineno - node.lineno + 1) > MOST_LINES_OF_A_FUNCTION
    }
    assert too_long == {}


def routes(patterns, prefix="") -> Iterator[tuple[str, object]]:
    for pattern in patterns:
        if hasattr(pattern, "url_patterns"):
            yield from routes(pattern.url_patterns, prefix + str(pattern.pattern))
        else:
            yield prefix + str(pattern.pattern), pattern.callback


def test_every_route_says_who_may_use_it():
    """Each view stands under a decorator of core.access, "anyone" included."""
    every = list(routes(get_resolver().url_patterns))
    assert len(every) > 5
    assert [route for route, view in every if not hasattr(view, "may_use")] == []


def comments(path: Path) -> Iterator[str]:
    with path.open("rb") as file:
        yield from (token.string for token in tokenize.tokenize(file.readline) if token.type == tokenize.COMMENT)


IGNORE = re.compile(r"# type: ignore\[[a-z-]+(, [a-z-]+)*\]  # \S.*")


def test_an_ignored_type_says_its_code_and_its_reason():
    assert IGNORE.fullmatch("# type: ignore[arg-type]  # why")
    assert not IGNORE.fullmatch("# type: ignore[arg-type]")
    assert not IGNORE.fullmatch("# type: ignore  # why")
    ignoring = [
        f"{path.relative_to(ROOT)}: {comment}"
        for top in (*OURS, "tests")
        for path in (ROOT / top).rglob("*.py")
        if "# type:" in path.read_text("utf-8")  # few have it, and to read a file word by word takes long
        for comment in comments(path)
        if comment.startswith("# type:") and not IGNORE.fullmatch(comment)
    ]
    assert ignoring == []


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
