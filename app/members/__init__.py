"""The kinds of member there are. A new kind is a file here and its name in ``AnyMember``."""

from typing import TypeAlias, get_args

from app.members.cylinder import Cylinder
from app.members.joint import End, Joint
from app.members.pin import Pin
from app.members.rod import Rod
from app.members.slide import Slide

AnyMember: TypeAlias = Cylinder | Rod | Pin | Slide

KINDS: dict[str, type[AnyMember]] = {
    get_args(each.model_fields["kind"].annotation)[0]: each for each in get_args(AnyMember)
}
"""Every kind by the name a document gives it."""

__all__ = ["KINDS", "AnyMember", "Cylinder", "End", "Joint", "Pin", "Rod", "Slide"]
