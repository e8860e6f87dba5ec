"""The routes of lessons: those that ship with the tool, and those a trainer has written."""

from fastapi import APIRouter
from fastapi.responses import Response
from pydantic import BaseModel, Field

from app.lessons.document import Lesson, as_lesson
from app.lessons.shipped import shipped_lessons
from app.library.folder import Folder, Kept
from app.web.answers import Json, refusals, refuse
from app.web.kept_routes import CHANGED, ID, KeptAt, Spoken
from app.web.kept_routes import routes as kept_routes


class ShippedLesson(BaseModel):
    """A lesson that ships with the tool."""

    name: str = Field(description="what GET /shipped-lessons/{name} takes")
    title: str = Field(description="its title")
    note: str = Field(description="what it teaches")
    steps: int = Field(description="how many steps it has")


class NewLesson(BaseModel):
    """What ``POST /lessons`` takes."""

    lesson: Lesson = Field(description="the lesson")


class LessonChange(NewLesson):
    """What ``PUT /lessons/{id}`` takes."""

    revision: int = Field(ge=1, description="the revision the change was made from")


class LessonEntry(BaseModel):
    """One lesson of the list."""

    id: str = ID
    title: str = Field(description="its title")
    steps: int = Field(description="how many steps it has")
    changed: str = CHANGED


class LessonInFull(KeptAt):
    """One lesson in full."""

    changed: str = CHANGED
    lesson: Lesson = Field(description="the lesson")


ASKED: tuple[type[BaseModel], ...] = (NewLesson, LessonChange)
"""The bodies these routes take."""


def routes(kept: Folder[Lesson]) -> APIRouter:
    """The routes over one folder, and of what ships."""
    router = APIRouter()

    @router.get("/shipped-lessons", summary="The shipped lessons", responses=refusals())
    async def shipped() -> list[ShippedLesson]:
        return [
            ShippedLesson(name=name, title=each.title, note=each.note, steps=len(each.steps))
            for name, each in shipped_lessons().items()
        ]

    @router.get(
        "/shipped-lessons/{name}",
        summary="One shipped lesson",
        responses={200: {"model": Lesson}, **refusals(404)},
    )
    async def one(name: str) -> Response:
        found = shipped_lessons().get(name)
        if found is None:
            text = "no shipped lesson has this name; GET /shipped-lessons lists them"
            return refuse(404, "not-found", text, name[:60])
        return Json(as_lesson(found))

    router.include_router(
        kept_routes(kept, Spoken(NewLesson, LessonChange, LessonEntry, LessonInFull, _entry)),
    )
    return router


def _entry(each: Kept[Lesson]) -> dict[str, object]:
    found = each.document
    return {"id": each.id, "title": found.title, "steps": len(found.steps), "changed": each.changed}
