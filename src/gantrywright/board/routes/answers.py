"""What the machine is and answers: fields, shapes, findings, figures, pictures, comparisons."""

import re
from typing import Any

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from gantrywright.base.errors import NotFound
from gantrywright.board import looks, views
from gantrywright.board.answer import Answer
from gantrywright.board.compared import compared, picture_of_both
from gantrywright.board.cuts import cuts
from gantrywright.board.office import Office
from gantrywright.intake.fields import choices_of, fields_of
from gantrywright.pictures import PICTURES, Picture, csv_of, maker_of, picture_of, svg_of
from gantrywright.pictures.tints import tints
from gantrywright.scene import scene_of, to_json
from gantrywright.study.study import Study

NAMED = re.compile(r"[^A-Za-z0-9_-]+")


def routes(office: Office) -> APIRouter:
    """All addresses that change nothing."""
    router = APIRouter()

    def study() -> Study:
        found = office.desk.sheet.study
        if found is None:
            raise NotFound("the file makes no machine yet; mend the problems that are listed")
        return found

    @router.get("/fields")
    def fields(path: str) -> Any:
        sheet = office.desk.sheet
        document = sheet.document or sheet.good
        if document is None:
            raise NotFound("the file cannot be read as it is")
        group = fields_of(document, sheet.study.machine if sheet.study else None, path)
        return Answer(looks.plain(group if sheet.document is not None else looks.as_it_was(group)))

    @router.get("/choices")
    def choices(path: str) -> Any:
        sheet = office.desk.sheet
        machine = sheet.study.machine if sheet.study else None
        return Answer([] if sheet.document is None else [looks.plain(row) for row in choices_of(sheet.document, path, machine)])

    @router.get("/scene")
    def scene(request: Request) -> Any:
        sheet = office.desk.sheet
        mark = f'"{office.boot}-{sheet.answers}"'
        if request.headers.get("if-none-match") == mark:
            return Response(status_code=304, headers={"ETag": mark})
        answer = Answer(to_json(scene_of(study().machine)))
        answer.headers["ETag"], answer.headers["Cache-Control"] = mark, "no-cache"
        return answer

    @router.get("/tints")
    def tint(by: str) -> Any:
        return Answer(tints(study(), by))

    @router.get("/pose")
    def at_pose(request: Request) -> Any:
        return Answer(looks.at_pose(study(), dict(request.query_params)))

    @router.get("/motions")
    def motions() -> Any:
        return Answer(looks.motions(study()))

    @router.get("/motion")
    def motion(name: str) -> Any:
        return Answer(looks.motion(study(), name))

    @router.get("/finding")
    def finding(key: str) -> Any:
        found = next((f for f in study().findings if f"{f.id}|{f.subject}" == key), None)
        if found is None:
            raise NotFound(f"there is no finding {key!r} any more")
        return Answer({**views.opened(study(), found), "spot": looks.spot(study(), found)})

    @router.get("/figure")
    def figure(path: str) -> Any:
        return Answer(looks.figure(study(), path))

    @router.get("/figures")
    def figures() -> Any:
        return Answer(looks.figures(study()))

    @router.get("/defaults")
    def defaults() -> Any:
        return Answer(looks.defaults(study()))

    @router.get("/pictures")
    def pictures() -> Any:
        return Answer(
            [
                {"id": p.id, "title": p.title, "stage": p.stage, "words": p.words, "of_job": p.of_job is not None}
                for p in PICTURES.values()
            ]
        )

    @router.get("/cuts")
    def jobs() -> Any:
        return Answer(cuts(study()))

    @router.get("/picture/{name}")
    def picture(name: str) -> Any:
        made, form = _asked(name)
        return _in_form(picture_of(made, office.desk.sheet.whole or study()), form)

    @router.get("/compare")
    def compare(request: Request) -> Any:
        return Answer(compared(office, request.query_params.get("with", "")))

    @router.get("/compare/picture/{name}")
    def both(name: str, request: Request) -> Any:
        made, form = _asked(name)
        return _in_form(picture_of_both(office, made, request.query_params.get("with", "")), form)

    return router


def _asked(name: str) -> tuple[str, str]:
    """Name of a picture, and the form in which it is wanted: none, svg or csv."""
    made, _, form = name.rpartition(".")
    if form not in ("svg", "csv"):
        made, form = name, ""
    maker_of(made)
    return made, form


def _in_form(picture: Picture, form: str) -> Response:
    saved = {"Content-Disposition": f'attachment; filename="{_filename(picture)}.{form}"'}
    if form == "svg":
        return Response(svg_of(picture), media_type="image/svg+xml", headers=saved)
    if form == "csv":
        return Response(csv_of(picture), media_type="text/csv; charset=utf-8", headers=saved)
    return Answer(looks.plain(picture))


def _filename(picture: Picture) -> str:
    """What every system takes for a name."""
    return NAMED.sub("-", f"{picture.id}-{picture.of}" if picture.of else picture.id)
