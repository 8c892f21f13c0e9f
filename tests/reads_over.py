"""A client for tests that are not about the page of signing: what a sheet leads to is read over and signed at once."""

from django.test import Client


class ReadsOver(Client):
    """A plain `Client` stops where a person would read."""

    def post(self, path, data=None, *args, follow=False, **kwargs):
        response = super().post(path, data, *args, follow=follow, **kwargs)
        gone_to = response.redirect_chain[-1][0] if follow and response.redirect_chain else response.get("Location", "")
        if "/sign/" not in gone_to or "/sign/" in path:
            return response
        page = response if follow else self.get(gone_to)
        return super().post(gone_to, sends(page, (data or {}).get("signature", "")), follow=follow)


def sends(page, signature: str = "") -> dict[str, str]:
    """What the page of signing sends."""
    seen = page.context["form"]["seen"].value()
    return {"read": page.context["read"], "seen": seen or "", "signature": signature}
