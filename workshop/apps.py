from django.apps import AppConfig


class WorkshopConfig(AppConfig):
    name = "workshop"

    def ready(self):
        from . import checks  # noqa: F401  (registers what is checked at the start)
