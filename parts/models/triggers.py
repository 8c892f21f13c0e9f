"""What the database itself refuses: changing or removing records that must last, and overfilling a place.

SQLite silently drops a table's triggers when a later migration rebuilds the table, and refuses to rebuild one that a
trigger elsewhere names; so all of them are dropped before a migration and made anew after it, and `missing()` is asked
at start. What is protected the manifests of the rooms say.
"""

from django.db import connections, transaction

from core.web.rooms import protected_tables

from . import find_triggers

LIVE = "state NOT IN ('withdrawn', 'in the making')"


STATE = "A state changes only with the event that says so."
NAMES_IT = (
    "EXISTS (SELECT 1 FROM parts_event e JOIN core_eventsubject s ON s.event_id = e.id WHERE e.id = NEW.last_event"
    " AND e.to_state = NEW.state AND s.kind = 'piece' AND s.number = NEW.id)"
)
"""The piece's last event is about the piece, and ends in the state that the row has."""
FULL = "The pieces in a position may not exceed its quantity."


def statements(vendor: str) -> dict[str, list[str]]:
    """Trigger name → the SQL that makes it, for one engine; the table is the first word after ON."""
    if vendor == "sqlite":
        return dict([*_sqlite(), *find_triggers.for_sqlite()])
    return dict(_postgresql())


def create(using: str = "default") -> None:
    """Make every trigger whose table exists, replacing what is there."""
    connection = connections[using]
    tables = set(connection.introspection.table_names())
    with transaction.atomic(using), connection.cursor() as cursor:
        for sqls in statements(connection.vendor).values():
            if _table(sqls[-1]) in tables:
                for sql in sqls:
                    cursor.execute(sql)


def missing(using: str = "default") -> list[str]:
    """Names of triggers that ought to be there and are not."""
    connection = connections[using]
    question = {
        "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT tgname FROM pg_trigger WHERE NOT tgisinternal",
    }[connection.vendor]
    with connection.cursor() as cursor:
        cursor.execute(question)
        there = {row[0] for row in cursor.fetchall()}
    return sorted(set(statements(connection.vendor)) - there)


def outdated(using: str = "default") -> list[str]:
    """Names of triggers that are missing or say something else than here. PostgreSQL replaces any of them in place, so
    there it is all of them."""
    connection, ours = connections[using], statements(connections[using].vendor)
    if connection.vendor != "sqlite":
        return sorted(ours)
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
        there = dict(cursor.fetchall())
    return sorted(name for name, sqls in ours.items() if there.get(name) != sqls[-1])


def create_after_migration(using: str, plan=(), **kwargs) -> None:
    if plan or outdated(using):
        create(using)


def drop_before_migration(using: str, plan=(), **kwargs) -> None:
    """SQLite rebuilds a table by renaming, and refuses to while a trigger on any other table names it."""
    connection = connections[using]
    if connection.vendor != "sqlite" or not plan:
        return
    with connection.cursor() as cursor:
        for name in statements(connection.vendor):
            cursor.execute(f"DROP TRIGGER IF EXISTS {name}")


def _table(sql: str) -> str:
    return sql.split(" ON ", 1)[1].split()[0]


def _sqlite():
    for protected in protected_tables():
        when = f" WHEN {protected.when}" if protected.when else ""
        for deed in ("update", "delete"):
            name = f"cotter_{protected.table}_{deed}"
            yield (
                name,
                [
                    f"DROP TRIGGER IF EXISTS {name}",
                    f"CREATE TRIGGER {name} BEFORE {deed.upper()} ON {protected.table}{when} "
                    f"BEGIN SELECT RAISE(ABORT, '{protected.sentence}'); END",
                ],
            )
    for name, head, when in (
        ("cotter_state_insert", "AFTER INSERT ON parts_component", f"NOT {NAMES_IT}"),
        (
            "cotter_state_update",
            "AFTER UPDATE OF state ON parts_component",
            f"OLD.state <> NEW.state AND NOT (NEW.last_event > OLD.last_event AND {NAMES_IT})",
        ),
    ):
        make = f"CREATE TRIGGER {name} {head} WHEN {when} BEGIN SELECT RAISE(ABORT, '{STATE}'); END"
        yield name, [f"DROP TRIGGER IF EXISTS {name}", make]
    overfull = (
        f"(SELECT COALESCE(SUM(quantity), 0) FROM parts_component WHERE place_id = {{place}} AND {LIVE})"
        f" > (SELECT quantity FROM parts_position WHERE id = {{place}})"
    )
    for name, head, place in (
        ("cotter_place_full_insert", "AFTER INSERT ON parts_component", "NEW.place_id"),
        ("cotter_place_full_update", "AFTER UPDATE OF place_id, quantity, state ON parts_component", "NEW.place_id"),
        ("cotter_place_full_shrink", "AFTER UPDATE OF quantity ON parts_position", "NEW.id"),
    ):
        condition = overfull.format(place=place)
        yield (
            name,
            [
                f"DROP TRIGGER IF EXISTS {name}",
                f"CREATE TRIGGER {name} {head} WHEN {condition} BEGIN SELECT RAISE(ABORT, '{FULL}'); END",
            ],
        )


def _postgresql():
    for protected in protected_tables():
        function = f"cotter_keep_{protected.table}"
        body = (
            f"CREATE OR REPLACE FUNCTION {function}() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
            f"RAISE EXCEPTION '{protected.sentence}' USING ERRCODE = 'check_violation'; END $$"
        )
        when = f" WHEN ({protected.when})" if protected.when else ""
        for deed in ("update", "delete"):
            name = f"cotter_{protected.table}_{deed}"
            yield (
                name,
                [
                    body,
                    f"DROP TRIGGER IF EXISTS {name} ON {protected.table}",
                    f"CREATE TRIGGER {name} BEFORE {deed.upper()} ON {protected.table} "
                    f"FOR EACH ROW{when} EXECUTE FUNCTION {function}()",
                ],
            )
    body = (
        "CREATE OR REPLACE FUNCTION cotter_state() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        f"IF NOT {NAMES_IT} OR (TG_OP = 'UPDATE' AND NOT NEW.last_event > OLD.last_event) "
        f"THEN RAISE EXCEPTION '{STATE}' USING ERRCODE = 'check_violation'; END IF; RETURN NULL; END $$"
    )
    for name, head in (
        ("cotter_state_insert", "AFTER INSERT ON parts_component FOR EACH ROW"),
        (
            "cotter_state_update",
            "AFTER UPDATE OF state ON parts_component FOR EACH ROW WHEN (OLD.state <> NEW.state)",
        ),
    ):
        drop = f"DROP TRIGGER IF EXISTS {name} ON parts_component"
        yield name, [body, drop, f"CREATE TRIGGER {name} {head} EXECUTE FUNCTION cotter_state()"]
    # The position's row is locked first, so that two pieces arriving at once are counted one after the other.
    for table, place in (("parts_component", "place_id"), ("parts_position", "id")):
        function = f"cotter_place_full_{table}"
        body = (
            f"CREATE OR REPLACE FUNCTION {function}() RETURNS trigger LANGUAGE plpgsql AS $$ "
            "DECLARE capacity integer; BEGIN "
            f"SELECT quantity INTO capacity FROM parts_position WHERE id = NEW.{place} FOR UPDATE; "
            f"IF (SELECT COALESCE(SUM(quantity), 0) FROM parts_component "
            f"WHERE place_id = NEW.{place} AND {LIVE}) > capacity "
            f"THEN RAISE EXCEPTION '{FULL}' USING ERRCODE = 'check_violation'; END IF; RETURN NULL; END $$"
        )
        heads = {
            "parts_component": (
                ("cotter_place_full_insert", "AFTER INSERT ON parts_component"),
                ("cotter_place_full_update", "AFTER UPDATE OF place_id, quantity, state ON parts_component"),
            ),
            "parts_position": (("cotter_place_full_shrink", "AFTER UPDATE OF quantity ON parts_position"),),
        }[table]
        for name, head in heads:
            yield (
                name,
                [
                    body,
                    f"DROP TRIGGER IF EXISTS {name} ON {table}",
                    f"CREATE TRIGGER {name} {head} FOR EACH ROW EXECUTE FUNCTION {function}()",
                ],
            )
