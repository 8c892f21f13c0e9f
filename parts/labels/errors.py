"""What can be wrong with a wish for labels. The message is a sentence for whoever asked, and says what to mend."""


class LabelError(ValueError):
    """These labels cannot be printed."""


class LabelSheetError(LabelError):
    """The sheet is not one that labels can be laid out on."""


class AddressError(LabelError):
    """The address does not fit in a code that a label can carry."""
