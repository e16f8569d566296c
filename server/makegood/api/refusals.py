"""The one shape of every error: {code, message, fields}, whatever raised it."""

from typing import Any

from flask import Flask
from flask.typing import ResponseReturnValue
from flask_smorest import Api
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from makegood.api.schemas import RefusalSchema
from makegood.errors import MakegoodError

_SENTENCES = {
    400: ("bad_request", "The request could not be read. Send it again."),
    404: ("not_found", "There is nothing at this address."),
    405: ("method_not_allowed", "This address does not take that kind of request."),
    406: ("not_acceptable", "The server cannot answer in the form asked for."),
    413: ("body_too_large", "This is too much at once. Send it in smaller parts."),
    415: ("json_expected", "Send JSON, with Content-Type: application/json."),
    422: ("bad_input", "Some of what was sent cannot be used; see fields."),
    500: (
        "server_fault",
        "The server met a fault of its own; nothing was changed. Try again, and tell the keeper if it stays.",
    ),
}


class RefusingApi(Api):
    """flask-smorest with our error shape in place of its own."""

    ERROR_SCHEMA = RefusalSchema

    def handle_http_exception(self, error: HTTPException) -> ResponseReturnValue:
        """Answer any HTTP error, those of the router and of argument parsing included."""
        status = error.code or 500
        if status < 400 and error.response is not None:
            return error.response
        code, message = _SENTENCES.get(status, (f"http_{status}", error.description or error.name))
        fields = _flat(getattr(error, "data", {}).get("messages", {}))
        headers = {}
        if isinstance(error, MethodNotAllowed) and error.valid_methods:
            headers["Allow"] = ", ".join(sorted(error.valid_methods))
        return {"code": code, "message": message, "fields": fields}, status, headers


def register(app: Flask) -> None:
    """Answer our own refusals in the same shape."""
    app.register_error_handler(MakegoodError, _refuse)


def _refuse(error: MakegoodError) -> ResponseReturnValue:
    headers = {"Retry-After": error.fields["wait_s"]} if "wait_s" in error.fields else {}
    return error.as_json(), error.status, headers


def _flat(messages: Any, above: str = "") -> dict[str, str]:
    if isinstance(messages, dict):
        found: dict[str, str] = {}
        for name, below in messages.items():
            place = str(name) if above in ("", "json", "query") else f"{above}.{name}"
            found.update(_flat(below, place))
        return found
    text = " ".join(str(one) for one in messages) if isinstance(messages, list) else str(messages)
    return {above or "body": text}
