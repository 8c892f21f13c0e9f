"""The tables of a new register, made together."""

from copy import copy
from itertools import groupby

from django.db.migrations import CreateModel, Migration


class FirstTables(Migration):
    """Django works out anew, before each table, every model that hangs together with it; here it does so once for all
    tables that follow each other, which saves each new register three seconds."""

    def apply(self, project_state, schema_editor, collect_sql=False):
        for together, run in groupby(self.operations, lambda one: type(one) is CreateModel):
            part = copy(self)
            part.operations = list(run)  # type: ignore[misc]  # each has its own, which the stubs do not know
            if together:
                part._make_tables(project_state, schema_editor)
            else:
                project_state = super(FirstTables, part).apply(project_state, schema_editor, collect_sql)
        return project_state

    def _make_tables(self, state, schema_editor) -> None:
        vars(state).pop("apps", None)  # otherwise kept in step with each table
        for operation in self.operations:
            operation.state_forwards(self.app_label, state)
        for operation in self.operations:
            operation.database_forwards(self.app_label, schema_editor, state, state)
