"""The address on the tags is looked at when the server starts, and by `manage.py check`."""

from django.conf import settings
from django.core.checks import Warning, register

from parts.domain import addresses

from .middleware import is_own_name


@register
def printed_address_lasts(app_configs=None, **kwargs):
    """Warnings, since everything but printing works without it. None set yet is told on the page that prints."""
    base = settings.ADDRESS.strip().rstrip("/")
    if not base:
        return []
    if wrong := addresses.fault(base):
        return [Warning(f"COTTER_ADDRESS: {wrong}", id="workshop.W001")]
    found = [Warning(f"COTTER_ADDRESS is {base}. {doubt}", id="workshop.W002") for doubt in addresses.doubts(base)]
    host = addresses.host_of(base)
    if not is_own_name(host):
        found.append(
            Warning(
                f"COTTER_ADDRESS is {base}, and Cotter does not answer to the name {host}: no tag would open.",
                hint=f"Add {host} to COTTER_HOSTS.",
                id="workshop.W003",
            )
        )
    return found
