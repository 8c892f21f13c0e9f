from django.apps import AppConfig


class WorkshopConfig(AppConfig):
    name = "workshop"

    def ready(self):
        from core.web.rooms import add_actions

        from . import checks  # noqa: F401  (registers the check of the printed address)

        add_actions(self)
