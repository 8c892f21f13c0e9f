"""Writing an edition of limits, and the form for one. No screen of its own."""
