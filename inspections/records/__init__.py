"""The record of an examination: read from a sheet, signed, its digest. No screen of its own."""
