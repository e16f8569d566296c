"""The JSON envelopes of every route. What ops carry inside is checked by `domain/`, one op at a time."""

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from makegood.domain import roles
from makegood.domain.row import is_clean

_NAME = validate.Length(min=1, max=120)
_UUID = validate.Regexp(r"^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}\Z", error="Give an id in lower case.")
_MAX_REV = 2**53


class Envelope(Schema):
    """Parent of what comes in: names it does not know are refused."""

    class Meta:
        """Strict."""

        unknown = RAISE


def _name(**how: object) -> fields.String:
    return fields.String(validate=[_NAME, _clean], **how)  # type: ignore[arg-type]


def _clean(text: str) -> None:
    if not is_clean(text):
        raise ValidationError("Write plain text.")


class RefusalSchema(Schema):
    """Every error."""

    code = fields.String(required=True)
    message = fields.String(required=True)
    fields_ = fields.Dict(keys=fields.String(), values=fields.String(), data_key="fields", required=True)


class ProtocolSchema(Schema):
    """Versions of sync this server speaks."""

    min = fields.Integer()
    max = fields.Integer()


class MetaSchema(Schema):
    """What the server is."""

    name = fields.String()
    version = fields.String()
    protocol = fields.Nested(ProtocolSchema)
    demo = fields.Boolean()
    catalogue = fields.String()
    enrolled = fields.Boolean()
    now = fields.String()


class EnrolSchema(Envelope):
    """Asking to be let in: by a link's token, or with demo on a demo."""

    token = fields.String(validate=[validate.Length(min=1, max=200), _clean])
    demo = fields.Boolean()
    person = _name(required=True)
    device_name = _name(required=True)


class TokenSchema(Envelope):
    """The secret of a link."""

    token = fields.String(required=True, validate=[validate.Length(min=1, max=200), _clean])


class PromiseSchema(Schema):
    """What a link would grant; `tickets` counts those of its hand-out, null without one."""

    role = fields.String(allow_none=True)
    site_name = fields.String(allow_none=True)
    tickets = fields.Integer(allow_none=True)
    invited_by = fields.String(allow_none=True)
    expires_at = fields.String()


class GrantSchema(Schema):
    """A role on a site; limited to what its hand-outs cover, or not."""

    site_id = fields.String()
    role = fields.String()
    limited = fields.Boolean()


class MeSchema(Schema):
    """The present device."""

    device_id = fields.String()
    person = fields.String()
    csrf = fields.String()
    epoch = fields.String()
    may_found = fields.Boolean()
    grants = fields.List(fields.Nested(GrantSchema))


class InviteSchema(Envelope):
    """Which site, and as what; with a hand-out as a helper who sees its tickets only."""

    site_id = fields.String(required=True, validate=_UUID)
    role = fields.String(required=True, validate=validate.OneOf(roles.roles()))
    handout_id = fields.String(validate=_UUID, allow_none=True, load_default=None)


class InvitedSchema(Schema):
    """A one-time link."""

    link = fields.String()
    token = fields.String()
    qr_svg = fields.String()
    expires_at = fields.String()


class OpenLinkSchema(Schema):
    """A link that could still be used; its id ends it, but opens nothing."""

    id = fields.String()
    role = fields.String()
    handout_id = fields.String(allow_none=True)
    made_by = fields.String(allow_none=True)
    made_at = fields.String()
    expires_at = fields.String()


class OpenLinksSchema(Schema):
    """The links to a site that could still be used, the newest first."""

    links = fields.List(fields.Nested(OpenLinkSchema))


class PlacedSchema(Schema):
    """One device of a site."""

    device_id = fields.String()
    person = fields.String()
    device_name = fields.String()
    role = fields.String()
    limited = fields.Boolean()
    handout_ids = fields.List(fields.String())
    seen_at = fields.String()


class DevicesSchema(Schema):
    """The devices of a site, by person."""

    devices = fields.List(fields.Nested(PlacedSchema))


class PushSchema(Envelope):
    """A phone's outbox, in order."""

    v = fields.Integer(required=True, strict=True)
    epoch = fields.String(required=True, allow_none=True, validate=validate.Length(max=40))
    ops = fields.List(fields.Raw(allow_none=True), required=True, validate=validate.Length(max=200))
    for_ = fields.String(data_key="for", validate=_UUID)
    as_own = fields.Boolean(load_default=False)


class ResultSchema(Schema):
    """The answer to one op."""

    op = fields.String(allow_none=True)
    st = fields.String(validate=validate.OneOf(["applied", "clash", "rejected"]))
    rev = fields.Integer()
    code = fields.String()
    say = fields.String()
    fields_ = fields.List(fields.String(), data_key="fields")


class WaitSchema(Envelope):
    """The cursors of a phone that waits for news, each as site id and revision."""

    rev = fields.List(
        fields.String(validate=validate.Regexp(r"^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}:\d{1,16}\Z")),
        required=True,
        validate=validate.Length(max=200),
    )


class NewsSchema(Schema):
    """Whether a pull would bring something."""

    epoch = fields.String()
    now = fields.String()
    news = fields.Boolean()


class PushedSchema(Schema):
    """The answers, in order."""

    epoch = fields.String()
    now = fields.String()
    results = fields.List(fields.Nested(ResultSchema))


class PullSchema(Envelope):
    """How far the phone has read, site by site."""

    v = fields.Integer(required=True, strict=True)
    epoch = fields.String(required=True, allow_none=True, validate=validate.Length(max=40))
    since = fields.Dict(
        required=True,
        keys=fields.String(validate=_UUID),
        values=fields.Integer(strict=True, validate=validate.Range(min=0, max=_MAX_REV)),
    )
    anew = fields.List(fields.String(validate=_UUID), load_default=list)
    limit = fields.Integer(strict=True, load_default=500, validate=validate.Range(min=1, max=1000))


class PulledRowSchema(Schema):
    """One row, or its tombstone."""

    type = fields.String()
    id = fields.String()
    site = fields.String()
    rev = fields.Integer()
    deleted = fields.Boolean()
    d = fields.Dict(keys=fields.String())


class PulledSchema(Schema):
    """One page of rows, and how far it reaches."""

    epoch = fields.String()
    now = fields.String()
    more = fields.Boolean()
    since = fields.Dict(keys=fields.String(), values=fields.Integer())
    drop = fields.List(fields.String())
    rows = fields.List(fields.Nested(PulledRowSchema))
