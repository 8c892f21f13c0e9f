"""Backup and restore: the whole register in one zip file, with a checksum for everything in it.

    cotter.sqlite3       a consistent copy of the database (cotter.pgdump on PostgreSQL)
    originals/…          pictures as they came
    papers/…             scans of drawings, certificates and letters
    pictures/…           pictures as shown
    manifest.json        what is in the file: name, size and SHA-256 of each, and by which
                         version of Cotter and when it was made

The secret key stays out: a backup travels on memory sticks, and a restored register only asks people to sign in again.
"""

from .common import BackupRefused
from .making import back_up
from .restoring import restore
from .swapping import finish_interrupted_restore

__all__ = ["BackupRefused", "back_up", "finish_interrupted_restore", "restore"]
