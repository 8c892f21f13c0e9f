"""Backup and restore: the whole register in one zip file, with a checksum for everything in it.

    cotter.sqlite3       a consistent copy of the database (cotter.pgdump on PostgreSQL)
    originals/…          pictures as they came
    papers/…             scans of drawings, certificates and letters
    pictures/…           pictures as shown
    manifest.json        what is in the file: name, size and SHA-256 of each, by which version of Cotter
                         and when it was made, and the last link of the chain then

Those made by night and before an upgrade keep their pictures in a folder that they share, each picture once.


The secret key stays out: a backup travels on memory sticks, and a restored register only asks people to sign in again.
"""

from .common import BackupRefused
from .lineage import tell_the_chain
from .making import back_up
from .proving import prove
from .restoring import remove_left_copies, restore
from .swapping import finish_interrupted_restore

__all__ = [
    "BackupRefused",
    "back_up",
    "finish_interrupted_restore",
    "prove",
    "remove_left_copies",
    "restore",
    "tell_the_chain",
]
