class PaperError(Exception):
    """A paper could not be made or kept; the message is a sentence fit for the screen."""


class PaperTooLong(PaperError):
    pass


class PaperTimeOut(PaperError):
    pass


class PaperOutOfMemory(PaperError):
    pass


class PaperRefused(PaperError):
    pass


class PaperNotKept(PaperError):
    pass
