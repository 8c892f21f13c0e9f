"""Tick boxes of which several may be ticked."""

from django import forms


class Ticks(forms.CheckboxSelectMultiple):
    """Each box has a name of its own, as the HTML checkers want it: `surfaces-0`, `surfaces-1`, …"""

    def create_option(self, name, *args, **kwargs):
        option = super().create_option(name, *args, **kwargs)
        option["name"] = f"{name}-{option['index']}"
        return option

    def value_from_datadict(self, data, files, name):
        boxes = (key for key in data if key.startswith(f"{name}-") and key.removeprefix(f"{name}-").isdigit())
        return [value for key in boxes for value in data.getlist(key)]
