"""Triggers that note whose words have changed, and those that keep SQLite's index of trigrams beside its rows."""

from dataclasses import dataclass

MARK = "cotter_find_"
WORDS_TABLE = (
    "CREATE VIRTUAL TABLE IF NOT EXISTS parts_findable_words USING fts5"
    "(text, content='parts_findable', content_rowid='id', tokenize='trigram')"
)
BESIDE = {
    "insert": "INSERT INTO parts_findable_words (rowid, text) VALUES (NEW.id, NEW.text);",
    "delete": "INSERT INTO parts_findable_words (parts_findable_words, rowid, text)"
    " VALUES ('delete', OLD.id, OLD.text);",
}
BESIDE["update"] = f"{BESIDE['delete']} {BESIDE['insert']}"


@dataclass(frozen=True)
class Change:
    """After this deed on a table the words of some things, as pairs (kind, query of their numbers), are others."""

    table: str
    deed: str  # insert, delete, or update
    columns: tuple[str, ...]
    whose: tuple[tuple[str, str], ...]

    @property
    def name(self) -> str:
        return f"{MARK}{self.table}_{self.deed}"

    @property
    def head(self) -> str:
        of = f" OF {', '.join(self.columns)}" if self.columns else ""
        return f"AFTER {self.deed.upper()}{of} ON {self.table}"

    @property
    def body(self) -> str:
        return " ".join(f"INSERT INTO parts_tofold (kind, thing) SELECT '{kind}', {ids};" for kind, ids in self.whose)


def _all_deeds(table: str, kind: str, columns: str, *further: tuple[str, str]) -> list[Change]:
    """A thing of its own, and on a change of its words whatever else says them."""
    return [
        Change(table, "insert", (), ((kind, "NEW.id"),)),
        Change(table, "delete", (), ((kind, "OLD.id"),)),
        Change(table, "update", tuple(columns.split()), ((kind, "NEW.id"), *further)),
    ]


def _hung(row: str) -> tuple[tuple[str, str], ...]:
    return (
        ("piece", f"{row}.component_id WHERE {row}.component_id IS NOT NULL"),
        ("location", f"{row}.location_id WHERE {row}.location_id IS NOT NULL"),
        ("pattern", f"{row}.pattern_id WHERE {row}.pattern_id IS NOT NULL"),
    )


OF_SUBASSEMBLY = "id FROM parts_position WHERE subassembly_id = NEW.id"
OF_LOCOMOTIVE = "WHERE locomotive_id = NEW.id"

CHANGES = [
    *_all_deeds(
        "parts_component", "piece", "name state marks works_number cast_number side place_id location_id locomotive_id"
    ),
    *_all_deeds(
        "parts_position",
        "place",
        'name side axle "end" inside drawing subassembly_id locomotive_id retired',
        ("piece", "id FROM parts_component WHERE place_id = NEW.id"),
    ),
    *_all_deeds(
        "parts_location",
        "location",
        "name path note retired",
        ("piece", "id FROM parts_component WHERE location_id = NEW.id"),
        ("firm", "id FROM parts_firm WHERE location_id = NEW.id"),
        ("pattern", "id FROM parts_pattern WHERE location_id = NEW.id"),
        ("drawing", "id FROM parts_drawing WHERE original_at_id = NEW.id"),
    ),
    *_all_deeds("parts_firm", "firm", "name does location_id retired"),
    *_all_deeds("parts_drawing", "drawing", "number sheet issue title original original_at_id"),
    Change("parts_goodfor", "insert", (), (("drawing", "NEW.drawing_id"),)),
    Change("parts_goodfor", "delete", (), (("drawing", "OLD.drawing_id"),)),
    *_all_deeds("parts_pattern", "pattern", "kind name drawing owner marks state location_id"),
    *_all_deeds(
        "parts_subassembly",
        "subassembly",
        "name code locomotive_id retired",
        ("place", OF_SUBASSEMBLY),
        ("piece", f"id FROM parts_component WHERE place_id IN (SELECT {OF_SUBASSEMBLY})"),
    ),
    *_all_deeds(
        "parts_locomotive",
        "locomotive",
        "name slug",
        ("subassembly", f"id FROM parts_subassembly {OF_LOCOMOTIVE}"),
        ("drawing", f"drawing_id FROM parts_goodfor {OF_LOCOMOTIVE}"),
        ("place", f"id FROM parts_position {OF_LOCOMOTIVE}"),
        ("piece", f"id FROM parts_component {OF_LOCOMOTIVE}"),
        ("piece", f"id FROM parts_component WHERE place_id IN (SELECT id FROM parts_position {OF_LOCOMOTIVE})"),
    ),
    Change("parts_tag", "insert", (), _hung("NEW")),
    Change("parts_tag", "delete", (), _hung("OLD")),
    Change(
        "parts_tag", "update", ("component_id", "location_id", "pattern_id", "code"), (*_hung("OLD"), *_hung("NEW"))
    ),
]


def for_sqlite():
    for change in CHANGES:
        make = f"CREATE TRIGGER {change.name} {change.head} BEGIN {change.body} END"
        yield change.name, [f"DROP TRIGGER IF EXISTS {change.name}", make]
    for deed, body in BESIDE.items():
        name = f"{MARK}words_{deed}"
        make = f"CREATE TRIGGER {name} AFTER {deed.upper()} ON parts_findable BEGIN {body} END"
        yield name, [WORDS_TABLE, f"DROP TRIGGER IF EXISTS {name}", make]


def for_postgresql():
    for change in CHANGES:
        function = f"{change.name}_noted"
        body = (
            f"CREATE OR REPLACE FUNCTION {function}() RETURNS trigger LANGUAGE plpgsql AS $$ "
            f"BEGIN {change.body} RETURN NULL; END $$"
        )
        make = f"CREATE TRIGGER {change.name} {change.head} FOR EACH ROW EXECUTE FUNCTION {function}()"
        yield change.name, [body, f"DROP TRIGGER IF EXISTS {change.name} ON {change.table}", make]
