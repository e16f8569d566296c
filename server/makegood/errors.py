"""Every refusal a person can meet, as one tree.

MakegoodError                 a stable code, one sentence saying what to do, the fields concerned
|-- BadInput (422)            what was given cannot be used as it is
|   |-- OutlineRefused        an outline crosses itself, leaves the wall or has no area
|   `-- RecipeRefused         a mix that cannot exist
|-- NotAllowed (403)          this device's role may not do that
|-- NotEnrolled (401)         no session, or one that was ended
|-- NotFound (404)            no such thing in what this device may see
|-- Gone (410)                a used or run-out link; an upload or cursor too old
|-- Conflict (409)            the other side is in another state than assumed
|-- TooLarge (413)            body, photo or picture over its limit
|-- WrongKind (415)           a file that is not one of the kinds taken
|-- Outdated (426)            the phone speaks a protocol that is no longer understood
|-- HashMismatch (460)        bytes that do not add up to their name
|-- TooManyTries (429)        slow down
|-- Unavailable (503)         something the server leans on does not answer
`-- StorageFull (507)         no room left where the server keeps things
"""


class MakegoodError(Exception):
    """Base of the tree: `code` for programs, `message` for people, `fields` naming what to mend."""

    status = 400

    def __init__(self, code: str, message: str, fields: dict[str, str] | None = None) -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.fields = fields or {}

    def as_json(self) -> dict[str, object]:
        """Return the one error shape of the API and the command line."""
        return {"code": self.code, "message": self.message, "fields": self.fields}


class BadInput(MakegoodError):
    """What was given cannot be used as it is."""

    status = 422


class OutlineRefused(BadInput):
    """An outline crosses itself, leaves the wall or has no area."""


class RecipeRefused(BadInput):
    """A mix that cannot exist."""


class NotAllowed(MakegoodError):
    """This device's role may not do that."""

    status = 403


class NotEnrolled(MakegoodError):
    """No session, or one that was ended."""

    status = 401


class NotFound(MakegoodError):
    """No such thing in what this device may see."""

    status = 404


class Gone(MakegoodError):
    """A used or run-out link; an upload or cursor too old."""

    status = 410


class Conflict(MakegoodError):
    """The other side is in another state than assumed."""

    status = 409


class TooLarge(MakegoodError):
    """Body, photo or picture over its limit."""

    status = 413


class WrongKind(MakegoodError):
    """A file that is not one of the kinds taken."""

    status = 415


class Outdated(MakegoodError):
    """The phone speaks a protocol that is no longer understood."""

    status = 426


class HashMismatch(MakegoodError):
    """Bytes that do not add up to their name."""

    status = 460


class TooManyTries(MakegoodError):
    """Slow down."""

    status = 429


class Unavailable(MakegoodError):
    """Something the server leans on does not answer."""

    status = 503


class StorageFull(MakegoodError):
    """No room left where the server keeps things; nothing of the request was kept."""

    status = 507
