"""Printed reports of signed records (PDF): one record, or everything that is signed of a piece or a subassembly."""
