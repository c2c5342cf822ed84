"""Which colony lives where, and what goes along when colonies part, join, move and die."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import dataclass, field

from oracle_courses import broken_off
from oracle_pieces import add_up, end_now, judge_stay
from oracle_state import Boxes, Colony, Exposure
from oracle_uniting import join_courses
from oracle_versions import Fact, Key


@dataclass
class Yard:
    """All hives and colonies, and the questions that came up.

    `names` says which colony id stands for another where a `same_as` joins them.
    """

    boxes: dict[str, Boxes] = field(default_factory=dict)
    colonies: dict[str, Colony] = field(default_factory=dict)
    questions: set[tuple[str, ...]] = field(default_factory=set)
    names: dict[str, str] = field(default_factory=dict)

    def hive(self, id_: str) -> Boxes:
        """Return the hive; one that nobody peopled has a colony of its own id from the first."""
        if id_ not in self.boxes:
            self.boxes[id_] = Boxes(id_)
        return self.boxes[id_]

    def living_in(self, hive: str) -> Colony:
        boxes = self.hive(hive)
        if boxes.colony is None:
            colony = self.colony(self.names.get(hive, hive))
            colony.implicit = True
            self.settle(hive, colony)
        assert boxes.colony is not None
        return boxes.colony

    def bees_of(self, hive: str) -> Colony:
        """Return the colony that is in a hive; of a dead one nothing goes on."""
        colony = self.living_in(hive)
        return Colony("", hive=hive, implicit=True) if colony.dead else colony

    def colony(self, id_: str) -> Colony:
        if id_ not in self.colonies:
            self.colonies[id_] = Colony(id_)
        return self.colonies[id_]

    def settle(self, hive: str, colony: Colony) -> None:
        self.hive(hive).colony = colony
        colony.hive = hive


def colony_comes(yard: Yard, fact: Fact) -> None:
    assert fact.hive and fact.colony
    lives = yard.living_in(fact.hive)
    if fact.body["origin"] == "was there" and lives.implicit and not lives.dead:
        yard.colonies.pop(lives.id, None)
        lives.id, lives.implicit = fact.colony, False
        yard.colonies[fact.colony] = lives
    else:
        yard.settle(fact.hive, yard.colony(fact.colony))


def split(yard: Yard, fact: Fact, along: int | None) -> None:
    """The part copies courses, counts, closed days and exposure; pieces as it was answered."""
    assert fact.hive
    source, whole = yard.hive(fact.hive), yard.bees_of(fact.hive)
    copy = deepcopy((whole, source))
    part, content = copy
    new = yard.colony(fact.body["to_colony"])
    new.courses, new.counts = part.courses, part.counts
    yard.settle(fact.body["to_hive"], new)
    _judge_from(content, fact.key)
    target = yard.hive(fact.body["to_hive"])
    target.came = fact.day
    here = [e for e in source.exposures if e.open]
    there = [e for e in content.exposures if e.open]
    if here:
        _part_pieces(yard, fact, here, there, along)
    _keep_looks(target)
    _add(target, content.exposures, new)
    target.segments += content.segments
    target.past += content.past
    target.looks = content.looks


def _keep_looks(target: Boxes) -> None:
    """Pieces that were all out before other combs came are judged by the looks of that time."""
    for exposure in target.exposures:
        known = exposure.own_looks
        if exposure.end is not None and (known is None or known[0] != exposure.end):
            exposure.own_looks = (exposure.end, list(target.looks))


def _part_pieces(
    yard: Yard, fact: Fact, here: list[Exposure], there: list[Exposure], along: int | None
) -> None:
    """Part the pieces that are in; where it is not known which went along, all are in both."""
    if along is None:
        yard.questions.add(("split", fact.id))
        _in_both(fact, here, there)
    elif along == 0:
        for exposure in there:
            end_now(exposure, fact.day, fact.key)
    elif len(here) == 1 and here[0].present is not None:
        stay, went = here[0], there[0]
        assert stay.present is not None and stay.put_in is not None
        went.put_in = went.present = along
        went.out = went.lost = 0
        left = max(0, stay.present - along)
        stay.put_in = max(0, stay.put_in - along)
        if left:
            stay.present = left
        else:
            end_now(stay, fact.day, fact.key)
    elif all(e.present is not None for e in here) and along >= sum(e.present or 0 for e in here):
        for stay, went in zip(here, there, strict=True):
            present = stay.present or 0
            went.put_in, went.out, went.lost = present, 0, 0
            stay.put_in = max(0, (stay.put_in or 0) - present)
            end_now(stay, fact.day, fact.key)
    else:
        _in_both(fact, here, there)


def _in_both(fact: Fact, here: list[Exposure], there: list[Exposure]) -> None:
    """Mark pieces of which it is not known in which part they are."""
    for whole, part in zip(here, there, strict=True):
        whole.sides.add((fact.id, "whole"))
        part.sides.add((fact.id, "part"))


def _add(boxes: Boxes, came: list[Exposure], colony: Colony) -> None:
    """Put exposures into boxes; what comes back takes the place of what was left of it there.

    Where what was left lasts longer, because a piece was found, it stands for the colony too.
    """
    for exposure in came:
        left = [e for e in boxes.exposures if e.id == exposure.id]
        for old in left:
            if old.open and exposure.open:
                add_up(old, exposure)
                _point(colony, exposure, old)
            elif _lasts_longer(old, exposure):
                boxes.past += [] if exposure.open else [exposure]
                _point(colony, exposure, old)
            else:
                boxes.past += [] if old.open else [old]
                exposure.judged_from = min(exposure.judged_from, old.judged_from)
                boxes.exposures = [exposure if e is old else e for e in boxes.exposures]
                _point(colony, old, exposure)
        if not left:
            boxes.exposures.append(exposure)


def _point(colony: Colony, old: Exposure, new: Exposure) -> None:
    """Let one exposure stand for another of the same application in the colony's courses."""
    for course in colony.courses:
        if any(e is old for e in course.exposures):
            rest = [e for e in course.exposures if e is not old and e is not new]
            course.exposures = [*rest, new]


def _lasts_longer(one: Exposure, other: Exposure) -> bool:
    if one.open or other.open:
        return one.open
    assert one.last_out is not None and other.last_out is not None
    return one.last_out >= other.last_out


def _judge_from(content: Boxes, key: Key) -> None:
    """Supers of the boxes that content comes to are judged from that instant."""
    for exposure in content.exposures + content.past:
        exposure.judged_from = exposure.here_since = key
        exposure.stood.append((content.id, key))
    for segment in content.segments:
        segment.judged_from = key


def _leave_behind(yard: Yard, hive: str, fact: Fact) -> Boxes:
    """Take a hive's content out of its boxes; they keep their closed days, ended on that day.

    Nobody lives in them then: what is given there counts for the boxes and for no colony.
    """
    boxes = yard.hive(hive)
    content = Boxes(hive, boxes.colony, boxes.exposures, boxes.segments, boxes.looks, boxes.past)
    kept = deepcopy(content)
    boxes.colony = Colony("", hive=hive, implicit=True)
    for exposure in kept.exposures:
        exposure.moved_on = exposure.moved_on or exposure.open
        end_now(exposure, fact.day, fact.key)
    for segment in kept.segments:
        segment.cap = min(segment.cap or fact.day, fact.day)
    boxes.exposures, boxes.segments = kept.exposures, kept.segments
    boxes.looks, boxes.past = kept.looks, kept.past
    return content


def unite(yard: Yard, fact: Fact) -> None:
    """The colony of another hive joins this one, with its boxes."""
    assert fact.hive
    other_hive = fact.body["from_hive"]
    if other_hive == fact.hive:
        return
    here, stays = yard.hive(fact.hive), yard.living_in(fact.hive)
    if yard.living_in(other_hive) is stays:
        return
    joins = yard.bees_of(other_hive)
    if stays.dead:
        stays = Colony(joins.id)
        yard.colonies[stays.id] = stays
        yard.settle(fact.hive, stays)
    content = _leave_behind(yard, other_hive, fact)
    _judge_from(content, fact.key)
    here.came = fact.day
    joins.ended, joins.hive = True, None
    for what, number in joins.counts.items():
        stays.counts[what] = max(number, stays.counts.get(what, 0))
    courses = sorted([*stays.courses, *joins.courses], key=lambda course: course.given[0].key)
    goes_on, asked = join_courses(fact.day, stays, joins)
    yard.questions |= {("unite", fact.id, treatment) for treatment in asked}
    stays.courses = [c for c in courses if c not in goes_on] + goes_on
    for course in stays.courses:
        if course not in goes_on and course.followed is None and broken_off(course, fact.day):
            course.followed = fact.day
    for there in content.exposures:
        same = [e for e in here.exposures if e.open and e.pieces and e.treatment == there.treatment]
        same.sort(key=lambda e: (e.id != there.id, e.start))
        if there.open and same:
            add_up(same[0], there)
            for course in courses:
                course.exposures = [same[0] if e is there else e for e in course.exposures]
        else:
            _add(here, [there], stays)
    here.segments += content.segments
    here.past += content.past


def _parted(colony: Colony, boxes: Boxes, fact: Fact) -> Colony:
    """Return a copy of a colony that leaves its pieces behind, judged as they stand."""
    left = deepcopy(colony)
    for course in left.courses:
        for exposure in course.exposures:
            end_now(exposure, fact.day, fact.key)
            if exposure.pieces and exposure.judged is None:
                exposure.judged = judge_stay(exposure, boxes.looks, fact.day) or "stayed"
    return left


def swarm(yard: Yard, fact: Fact) -> None:
    """A swarm takes courses, rest and limits along, no closed days, exposure or pieces."""
    assert fact.hive
    left = _parted(yard.bees_of(fact.hive), yard.hive(fact.hive), fact)
    inside = [c.pieces_in for c in yard.bees_of(fact.hive).courses]
    new = yard.colony(fact.body["new_colony"])
    new.courses, new.counts = left.courses, left.counts
    for course, with_pieces in zip(new.courses, inside, strict=True):
        if with_pieces and not course.united and course.stopped is None:
            course.left = fact.day
    if "to_hive" in fact.body:
        yard.hive(fact.body["to_hive"]).came = fact.day
        yard.settle(fact.body["to_hive"], new)


def transfer(yard: Yard, fact: Fact) -> None:
    """The whole colony moves; with combs, or not known, closed days and pieces go along."""
    assert fact.hive
    to_hive = fact.body["to_hive"]
    if to_hive == fact.hive:
        return
    colony = yard.bees_of(fact.hive)
    if fact.body["combs"] == "bees only":
        for segment in yard.hive(fact.hive).segments:
            if segment.course in colony.courses and segment.cap is None:
                segment.cap = fact.day
        yard.hive(fact.hive).colony = Colony("", hive=fact.hive, implicit=True)
        colony.courses = _parted(colony, yard.hive(fact.hive), fact).courses
    else:
        content = _leave_behind(yard, fact.hive, fact)
        _judge_from(content, fact.key)
        target = yard.hive(to_hive)
        target.came = fact.day
        _keep_looks(target)
        _add(target, content.exposures, colony)
        target.segments += content.segments
        target.past += content.past
        target.looks = content.looks
    yard.hive(to_hive).came = fact.day
    yard.settle(to_hive, colony)


def death(yard: Yard, fact: Fact) -> None:
    """Pieces stay due and the boxes stay closed; the bees need nothing more."""
    assert fact.hive
    yard.living_in(fact.hive).dead = True
