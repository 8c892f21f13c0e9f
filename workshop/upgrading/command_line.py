"""The command line: the commands are found by Django; this one looks first whether there is a register to work on."""

import sys

from django.core.management import ManagementUtility

from core import __version__
from core.domain.schema import Schema

VERSION = f"Cotter {__version__}"
LOOK_THEMSELVES = {"demo", "migrate", "prove_backup", "restore", "serve"}
NEED_NO_REGISTER = {
    "check", "collectstatic", "compilemessages", "dbshell", "diffsettings", "findstatic", "help", "inspectdb",
    "makemessages", "makemigrations", "optimizemigration", "runserver", "sendtestemail", "shell", "showmigrations",
    "sqlflush", "sqlmigrate", "sqlsequencereset", "squashmigrations", "startapp", "startproject", "state_diagram",
    "test", "testserver", "version",
}  # fmt: skip
"""For people who work on Cotter itself; every other command works on a register."""
WITHOUT_CHECKS = {
    "add_person", "backup", "check_standings", "find_index", "forecast", "import_register", "limit_sheets",
    "new_locomotive", "prove_backup", "readiness", "restore", "sweep_photos", "verify_records",
}  # fmt: skip
"""Django's checks read the code of every page, which takes as long again as all else that a command needs to begin."""
HELP = {"-h", "--help"}


class CommandLine(ManagementUtility):
    def fetch_command(self, subcommand: str):
        command = super().fetch_command(subcommand)
        if subcommand in WITHOUT_CHECKS:
            command.requires_system_checks = ()
        if self.argv[1] == subcommand and not HELP & set(self.argv):
            refuse_without_register(subcommand)
        return command


def refuse_without_register(command: str) -> None:
    from .compatibility import CannotUse, refuse_unless  # once the settings have been read

    if command in LOOK_THEMSELVES | NEED_NO_REGISTER:
        return
    try:
        refuse_unless(Schema.CURRENT, *([Schema.OLDER] if command == "backup" else []))
    except CannotUse as refused:
        sys.exit(str(refused))


def run(words: list[str]) -> None:
    """Run one command; `words` are those of the command line, the name of the program first."""
    if words[1:2] in (["--version"], ["version"]):  # of either Django would say its own
        print(VERSION)
        return
    CommandLine(words).execute()
