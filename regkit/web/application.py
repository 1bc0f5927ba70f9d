"""Putting the web adapter together."""

from __future__ import annotations

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from regkit.language import Phrase, phrase
from regkit.web import asking, documents, published, reporting
from regkit.web.guard import Guard
from regkit.web.refusals import Refused
from regkit.web.refusing import refusal
from regkit.web.service import Service
from regkit.web.settings import Settings
from regkit.web.work import Busy

HTTP: dict[int, Phrase] = {
    404: phrase("There is no such page here"),
    405: phrase("This cannot be done here"),
}

ROUTES = (
    Route("/", asking.start, name="start"),
    Route("/ask", asking.ask, name="ask", methods=["GET"]),
    Route("/ask", asking.take, name="take", methods=["POST"]),
    Route("/report", reporting.report, name="report"),
    Route("/case.json", reporting.case, name="case"),
    Route("/look.css", published.look, name="look"),
    Route("/style.css", published.style, name="style"),
    Route("/report.css", published.report_style, name="report_style"),
    Route("/fragment.css", published.fragment_style, name="fragment_style"),
    Route("/assess", documents.assess, methods=["POST"]),
    Route("/plan", documents.plan, methods=["POST"]),
    Route("/packet/{requirement}", documents.packet, methods=["POST"]),
    Route("/next-question", documents.question, methods=["POST"]),
    Route("/jurisdictions", published.jurisdictions),
    Route("/facts/{jurisdiction}", published.facts),
    Route("/schemas/{name}", published.schema),
    Route("/openapi.json", published.openapi),
)


def application(settings: Settings | None = None) -> Starlette:
    """Return the web adapter as an ASGI application, to be mounted or run alone.

    Raises:
        Unreadable: a ruleset cannot be read.
        ValueError: a key is none, or the language is none of those spoken.
    """
    settings = settings or Settings()
    app = Starlette(
        routes=ROUTES,
        middleware=[
            Middleware(Guard, settings.limits, settings.frame_ancestors),
            Middleware(GZipMiddleware, minimum_size=2_000, compresslevel=5),
        ],
        exception_handlers={Refused: _refused, Busy: _busy, HTTPException: _http,
                            Exception: _failed},
    )
    app.state.service = Service.of(settings)
    return app


async def _refused(request: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, Refused)
    return refusal(request, wrong)


async def _busy(request: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, Busy)
    return refusal(request, Refused(503, phrase(
        "There is too much to do at the moment. Please try again in some seconds"),
        after=wrong.after))


async def _http(request: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, HTTPException)
    says = HTTP.get(wrong.status_code, phrase("This cannot be answered"))
    response = refusal(request, Refused(wrong.status_code, says))
    response.headers.update(wrong.headers or {})
    return response


async def _failed(request: Request, _: Exception) -> Response:
    return refusal(request, Refused(500, phrase(
        "Something failed here, and it is not your fault. Nothing you answered is lost: go back "
        "and try again")))
