"""The demo: an invented tank locomotive of an invented forest railway, half way through its overhaul."""
