"""The pages beside the sketch: two mounts side by side, the handout, and the guides.

What the first two show rides in their fragment.
"""

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import Response
from fastapi.templating import Jinja2Templates

from app import guides
from app.grading.form import form
from app.grading.ready import READY


def routes(pages: Jinja2Templates) -> APIRouter:
    """The routes of the pages."""
    router = APIRouter(include_in_schema=False)

    @router.get("/compare")
    async def compare(request: Request) -> Response:
        return pages.TemplateResponse(request, "compare.html")

    @router.get("/run")
    async def grade(request: Request) -> Response:
        return pages.TemplateResponse(request, "run.html", {"groups": form(), "ready": READY})

    @router.get("/handout")
    async def handout(request: Request) -> Response:
        return pages.TemplateResponse(request, "handout.html")

    @router.get("/guide/{name}")
    async def guide(request: Request, name: str) -> Response:
        found = next((each for each in guides.ALL if each.name == name), None)
        if found is None:
            raise HTTPException(404)
        return pages.TemplateResponse(request, "guide.html", {"page": found, "pages": guides.ALL})

    return router
