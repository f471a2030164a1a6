"""The application: every screen's routes behind the doorman."""

from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from dataclasses import replace
from types import ModuleType

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import BaseRoute

from cli.view import (
    ask,
    assets,
    check,
    code,
    drawer,
    iiif,
    job,
    job_sheets,
    jobs,
    kin,
    look,
    progress,
    sets,
    tiles,
)
from cli.view.desk import ViewDesk
from cli.view.lan import Door
from cli.view.paper import trouble
from cli.view.safety import Doorman
from cli.view.settings import Settings, kept_secret
from indexer import BenchfolioError, ExitCode, TooLarge

# Each module holds `routes`; it may hold `nav` (label, path) and `large` (path -> bytes it takes).
SCREENS: tuple[ModuleType, ...] = (
    ask, sets, kin, jobs, job, job_sheets, drawer, check, progress, look, tiles, iiif, code,
    assets,
)  # fmt: skip

_STATUS = {
    ExitCode.NOTHING_FOUND: 404,
    ExitCode.WRONG_USAGE: 400,
    ExitCode.BAD_INPUT: 422,
    ExitCode.LIBRARY_TROUBLE: 503,
}


def build_app(
    settings: Settings,
    announce: Callable[[str], None] = lambda code: None,
    screens: Sequence[ModuleType] = SCREENS,
) -> Starlette:
    """The view as an ASGI application. `announce` is given each one-time code under `lan`."""
    settings = replace(settings, secret=kept_secret(settings.home))
    door = Door(announce) if settings.lan else None
    routes: list[BaseRoute] = []
    nav: list[tuple[str, str]] = []
    large: dict[str, int] = {}
    for screen in screens:
        routes += screen.routes
        nav += [screen.nav] if hasattr(screen, "nav") else []
        large |= getattr(screen, "large", {})

    @asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        desk = ViewDesk(settings, door)
        app.state.desk = desk
        if settings.warm:
            desk.pictures.warm()
        try:
            yield
        finally:
            await run_in_threadpool(desk.close)

    app = Starlette(
        routes=routes,
        lifespan=lifespan,
        exception_handlers={BenchfolioError: _known_trouble, HTTPException: _http_trouble},
        middleware=[Middleware(Doorman, settings=settings, door=door, large=large)],
    )
    app.router.redirect_slashes = False
    app.state.nav = nav
    return app


def _known_trouble(request: Request, error: Exception) -> Response:
    assert isinstance(error, BenchfolioError)
    status = 413 if isinstance(error, TooLarge) else _STATUS.get(error.exit_code, 500)
    return trouble(request, status, error.message, error.remedy)


def _http_trouble(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    said = {404: "There is no such page here.", 405: "That can't be sent here."}
    return trouble(request, error.status_code, said.get(error.status_code, error.detail))
