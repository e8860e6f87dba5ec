"""The pages beside the sketch: two mounts side by side, and the handout. What they show rides in their fragment."""

from fastapi import APIRouter, Request
from fastapi.responses import Response
from fastapi.templating import Jinja2Templates


def routes(pages: Jinja2Templates) -> APIRouter:
    """The routes of the pages."""
    router = APIRouter(include_in_schema=False)

    @router.get("/compare")
    async def compare(request: Request) -> Response:
        return pages.TemplateResponse(request, "compare.html")

    @router.get("/handout")
    async def handout(request: Request) -> Response:
        return pages.TemplateResponse(request, "handout.html")

    return router
