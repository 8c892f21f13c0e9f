"""Serving: the server, one instance at a time, the demo."""
