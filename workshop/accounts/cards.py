"""Cards with a secret on them: somebody's sign-in card, or an invitation. As PDF, and the invitation on the screen."""

from django.utils import timezone

from core.domain import codes
from parts.domain.plain import day
from parts.labels import printing, qr
from parts.labels.bearer import CARD_SHEETS, CUT_OUT, render_card
from parts.labels.kinds import CardLabel


def sign_in_card(person, code: str, base: str, sheet: str = CUT_OUT) -> bytes:
    return render_card(
        CardLabel(
            heading="Sign-in card",
            name=str(person),
            code=codes.grouped(code),
            address=codes.printed_address(base, "card", code),
            lines=[
                "For the shared tablets of the works. Whoever holds it can sign as you.",
                "Lost? Say so at once.",
                f"Printed {day(timezone.localdate())}",
            ],
        ),
        sheet,
    )


def invitation_card(invitation, code: str, sheet: str = CUT_OUT) -> bytes:
    base = printing.address()
    return render_card(
        CardLabel(
            heading="You are invited to join the works",
            name=invitation.name or ", ".join(invitation.roles).capitalize(),
            code=codes.grouped(code),
            address=codes.printed_address(base, "join", code),
            lines=[
                f"Scan it, or open {base}/join/ and type the code below.",
                f"Good once, until {day(timezone.localtime(invitation.expires).date())}",
            ],
        ),
        sheet,
    )


def sheet_in(entered) -> str:
    """What a form said that the card is printed on; whatever is not on the list is the sheet that everybody has."""
    return entered.get("sheet") if entered.get("sheet") in CARD_SHEETS else CUT_OUT


def on_screen(word: str, code: str) -> tuple[str, dict]:
    """The address that a card would carry, and its code as rectangles in a square of so many modules."""
    address = codes.printed_address(printing.address(), word, code)
    dark = qr.modules(address)
    rectangles = [r._replace(left=r.left + qr.QUIET_MODULES, top=r.top + qr.QUIET_MODULES) for r in qr.rectangles(dark)]
    return f"{printing.address()}/{word}/", {"size": len(dark) + 2 * qr.QUIET_MODULES, "rectangles": rectangles}
