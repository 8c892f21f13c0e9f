from django.apps import AppConfig
from django.db.models.signals import post_migrate, pre_migrate


class PartsConfig(AppConfig):
    name = "parts"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self):
        from core.log import writing
        from core.web.rooms import add_actions

        from . import checks  # noqa: F401  (registers the database check)
        from .actions.perform import add_piece_actions, add_reactions
        from .finding import find_index
        from .models.triggers import create_after_migration, drop_before_migration

        add_piece_actions()
        add_actions(self)
        add_reactions(self)

        pre_migrate.connect(drop_before_migration, sender=self, dispatch_uid="parts.models.triggers")
        post_migrate.connect(create_after_migration, sender=self, dispatch_uid="parts.models.triggers")
        pre_migrate.connect(find_index.empty_before_migration, sender=self, dispatch_uid="parts.finding.find_index")
        post_migrate.connect(find_index.rebuild_after_migration, sender=self, dispatch_uid="parts.finding.find_index")
        writing.FOLLOWERS.append(find_index.follow)
