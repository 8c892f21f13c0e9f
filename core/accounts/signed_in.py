"""Who is signed in, as Django has it. Each page and each picture asks for it, so by prepared queries."""

from django.contrib.auth.backends import ModelBackend
from django.contrib.sessions.backends import db
from django.contrib.sessions.models import Session
from django.db.models import QuerySet
from django.utils import timezone

from ..models import Person
from ..models.prepared import Scope, prepared


class SessionStore(db.SessionStore):
    def _get_session_from_db(self) -> Session | None:
        for found in _sessions({"session_key": self.session_key}):
            if found.expire_date > timezone.now():
                return found
        self._session_key = None
        return None


class ByPassword(ModelBackend):
    def get_user(self, user_id: int) -> Person | None:
        found = [person for person in _people({"pk": user_id}) if self.user_can_authenticate(person)]
        return found[0] if found else None


@prepared
def _sessions(scope: Scope) -> QuerySet[Session]:
    return Session.objects.filter(**scope)


@prepared
def _people(scope: Scope) -> QuerySet[Person]:
    return Person.objects.filter(**scope)
