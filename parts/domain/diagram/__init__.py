"""The works' diagram of a locomotive, drawn from its own structure as an SVG, with a description in words."""
