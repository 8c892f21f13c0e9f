"""A browser's own description of itself, in plain words: "Chrome on an Android phone".

What browsers say is a heap of history (RFC 9110, 10.1.5, lets them say anything); the order below is what tells them
apart, since most claim to be several of the others.
"""

BROWSERS = (
    ("Edg", "Edge"),
    ("OPR/", "Opera"),
    ("SamsungBrowser/", "Samsung Internet"),
    ("Firefox/", "Firefox"),
    ("FxiOS/", "Firefox"),
    ("CriOS/", "Chrome"),
    ("Chrome/", "Chrome"),
    ("Safari/", "Safari"),
)


def in_words(agent: str) -> str:
    """
    >>> in_words("Mozilla/5.0 (X11; Linux x86_64; rv:128.0) Gecko/20100101 Firefox/128.0")
    'Firefox on Linux'
    >>> in_words("curl/8.5.0")
    'A program or an unusual browser'
    """
    browser = next((word for mark, word in BROWSERS if mark in agent), "")
    system = _system(agent)
    if not browser and not system:
        return "A program or an unusual browser"
    return f"{browser or 'A browser'} on {system}" if system else browser


def _system(agent: str) -> str:
    if "iPhone" in agent:
        return "an iPhone"
    if "iPad" in agent:
        return "an iPad"
    if "Android" in agent:
        return "an Android phone" if "Mobile" in agent else "an Android tablet"
    words = (("Windows", "Windows"), ("CrOS", "a Chromebook"), ("Macintosh", "a Mac"), ("Linux", "Linux"))
    return next((word for mark, word in words if mark in agent), "")
