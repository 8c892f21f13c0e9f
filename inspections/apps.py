from django.apps import AppConfig


class InspectionsConfig(AppConfig):
    name = "inspections"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self):
        from core.web.rooms import add_actions
        from parts.queries.measured import register

        from .provider.provider import Provider

        add_actions(self)
        register(Provider())
