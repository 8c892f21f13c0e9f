"""Rows as the rules want them: one load for many places, and what is stored of them counted."""
