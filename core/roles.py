"""The names of roles, and the usual groups of them. Imports nothing of ours; who may do what the catalogue says.

A person may hold several roles. Rules about two names and independence look at the person, not at the role.
"""

from enum import StrEnum


class Role(StrEnum):
    VOLUNTEER = "volunteer"
    STOREKEEPER = "storekeeper"
    FITTER = "fitter"
    EXAMINER = "examiner"
    RESPONSIBLE_ENGINEER = "responsible engineer"
    WORKS_MANAGER = "works manager"
    TRUSTEE = "trustee"


ENGINEER = frozenset({Role.RESPONSIBLE_ENGINEER})
MANAGER = frozenset({Role.WORKS_MANAGER})
BENCH = ENGINEER | {Role.FITTER}
EXAMINERS = ENGINEER | {Role.EXAMINER}
STORES = ENGINEER | {Role.STOREKEEPER}
AT_WORK = BENCH | EXAMINERS | STORES | {Role.VOLUNTEER}
OFFICE = ENGINEER | MANAGER
