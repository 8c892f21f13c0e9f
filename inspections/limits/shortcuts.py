"""What views of limits share: a form of an edition, sent again after somebody was quicker."""


def with_edition(form, newest) -> None:
    """Whoever was told that somebody was quicker sees what holds now, and may send the form again."""
    form.data = form.data.copy()
    form.data["seen"] = str(newest.edition) if newest else ""
