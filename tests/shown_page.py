"""An answer shown in a browser as it was served, with nothing else to be had from its address."""

from typing import Any

ADDRESS = "http://localhost/shown"


def shown_page(browser: Any, answer: Any, said: list[str], *, policy: str = "", width: int = 1280) -> Any:
    """A page that is still to go to ADDRESS; what its console says is added to `said`.

    policy: another than the one that the answer was served with.
    """
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    held = policy or answer.headers["Content-Security-Policy"]
    headers = {"Content-Type": answer.content_type, "Content-Security-Policy": held}
    page.route("**/*", lambda route: route.fulfill(body=answer.data, headers=headers))
    return page
