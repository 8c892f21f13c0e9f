"""Styles and scripts, under names that change with what is in them."""

from functools import cache

from whitenoise.storage import CompressedManifestStaticFilesStorage


class StaticFiles(CompressedManifestStaticFilesStorage):
    """Every page names twenty of them. Their addresses last as long as the server, so each is worked out once."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.url = cache(super().url)
