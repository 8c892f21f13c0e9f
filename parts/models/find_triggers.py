"""SQLite's index of trigrams beside what can be found, and the triggers that keep it the same as those rows."""

TABLE = "parts_findable_words"
MAKE_TABLE = (
    f"CREATE VIRTUAL TABLE IF NOT EXISTS {TABLE} USING fts5"
    "(text, content='parts_findable', content_rowid='id', tokenize='trigram')"
)
INSERT = f"INSERT INTO {TABLE} (rowid, text) VALUES (NEW.id, NEW.text);"
DELETE = f"INSERT INTO {TABLE} ({TABLE}, rowid, text) VALUES ('delete', OLD.id, OLD.text);"
REBUILD = f"INSERT INTO {TABLE} ({TABLE}) VALUES ('rebuild')"


def for_sqlite():
    for deed, body in (("insert", INSERT), ("delete", DELETE), ("update", f"{DELETE} {INSERT}")):
        name = f"cotter_find_words_{deed}"
        make = f"CREATE TRIGGER {name} AFTER {deed.upper()} ON parts_findable BEGIN {body} END"
        yield name, [MAKE_TABLE, f"DROP TRIGGER IF EXISTS {name}", make]
