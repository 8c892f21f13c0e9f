from django.apps import AppConfig


class InspectionsConfig(AppConfig):
    name = "inspections"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self):
        from core.web.rooms import add_actions

        from .provider.provider import answer

        add_actions(self)
        answer()
