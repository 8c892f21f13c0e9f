"""Database checks, run by `manage.py check --database default` and at start of the server.

A warning, not an error: `manage.py migrate` runs the checks first, and is what mends this.
"""

from django.core.checks import Tags, Warning, register
from django.db import connections

from . import triggers


@register(Tags.database)
def triggers_are_there(app_configs=None, databases=None, **kwargs):
    findings = []
    for alias in databases or ():
        if "parts_event" not in connections[alias].introspection.table_names():
            continue  # not migrated yet
        for name in triggers.missing(alias):
            findings.append(
                Warning(f"The database lacks the trigger {name}.", hint="Run manage.py migrate.", id="parts.W001")
            )
    return findings
