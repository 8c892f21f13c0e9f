"""Database checks, run by `manage.py check --database default` and at start of the server.

A warning, not an error: `manage.py migrate` runs the checks first, and is what mends this.
"""

from django.core.checks import Tags, Warning, register
from django.db import connections

from core.web.rooms import found_kinds

from .finding import find_index
from .models import triggers


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


@register(Tags.database)
def everything_can_be_found(app_configs=None, databases=None, **kwargs):
    findings = []
    for alias in databases or ():
        tables = {"parts_findable", *(found.table for found in found_kinds().values())}
        if not tables <= set(connections[alias].introspection.table_names()):
            continue  # not migrated yet
        for kind in find_index.lacking(alias):
            findings.append(
                Warning(
                    f"Not everything can be found: {kind}.", hint="Run manage.py find_index --rebuild.", id="parts.W002"
                )
            )
    return findings
