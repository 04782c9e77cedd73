"""Which form of an answer is wanted: `?form=` decides, else the Accept header, else JSON."""

from collections.abc import Mapping

from werkzeug.datastructures import MIMEAccept

from service.errors import NotAcceptable

VERDICT_FORMS: Mapping[str, str] = {
    "json": "application/json",
    "html": "text/html",
    "pdf": "application/pdf",
    "junit": "application/xml",
    "markdown": "text/markdown",
}
CHECK_FORMS: Mapping[str, str] = {**VERDICT_FORMS, "text": "text/plain"}
PLAN_FORMS: Mapping[str, str] = {
    "json": "application/json",
    "csv": "text/csv",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "html": "text/html",
    "pdf": "application/pdf",
    "text": "text/plain",
}


def wanted_form(form: str | None, accept: MIMEAccept, forms: Mapping[str, str]) -> str:
    """The name of the form to answer in; `forms` maps names to media types, the first wins ties.

    Raises NotAcceptable, naming the forms there are.
    """
    if form is not None:
        if form in forms:
            return form
        raise NotAcceptable(f"There is no form {form!r} here. {_offer(forms)}")
    if not accept:
        return next(iter(forms))
    best = max(forms, key=lambda name: accept.quality(forms[name]))
    if accept.quality(forms[best]) <= 0:
        raise NotAcceptable(f"None of the media types of the Accept header is made here. {_offer(forms)}")
    return best


def _offer(forms: Mapping[str, str]) -> str:
    return "There are: " + ", ".join(f"{name} ({media})" for name, media in forms.items()) + "."
