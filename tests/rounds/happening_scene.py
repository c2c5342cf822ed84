"""A yard for what happens to hives: strips, closed honey, supers; and how a form is answered."""

from __future__ import annotations

from datetime import timedelta

from fieldapp.rounds.desk_form import Written
from fieldapp.rounds.happening.choosing import (
    NEW,
    DayOver,
    Marks,
    OneHive,
    SomeHives,
)
from fieldapp.rounds.look_form import Choice
from fieldapp.rounds.terms import terms_body
from fieldapp.words import Speech

SPEAK = Speech()
STRIPS = "GB/AN-00561-2015/2015/amitraz/strips"
DAY = 86_400


def treat(phone, hive, treatment=STRIPS, **more):
    """Log one application at a hive, by the library's terms; return its record."""
    if treatment not in phone.book.terms():
        phone.write("terms", terms_body(phone.notebook, treatment))
    terms = phone.book.terms()[treatment].id
    apiary = phone.book.hive(hive).apiary
    body = {"treatment": treatment, "terms": terms, "supers": "off"} | more
    return phone.write("application", body, hive=hive, apiary=apiary)


def entered(form, **answers):
    """Answer a form's questions by name."""
    for name, value in answers.items():
        form.take(name, value)
    return form


def lines(form):
    """Return what a form says would follow, by the hive's number."""
    return {each.number: [SPEAK(told.words) for told in each.lines] for each in form.follows()}


def answer_at_random(form, random):
    """Answer what a form asks, some of it not at all; return whether it can be saved."""
    for _ in range(4):
        for question in form.questions:
            if question.needed or random.random() < 0.6:
                value = _answer(question, random, form)
                if value is not None:
                    form.take(question.name, value)
    return form.ready


def _answer(question, random, form):
    if isinstance(question, OneHive):
        keys = [each.hive for each in question.options]
        new = [each for each in keys if each == NEW]
        return random.choice([*keys, *new]) if keys else None
    if isinstance(question, SomeHives):
        keys = [each.hive for each in question.options]
        return random.sample(keys, random.randint(1, len(keys))) if keys else None
    if isinstance(question, Marks):
        return [mark for mark in question.options if random.random() < 0.5]
    if isinstance(question, DayOver):
        back = random.choice([0, 0, 1, 9, 40])
        return (form.today - timedelta(days=back)).isoformat()
    if isinstance(question, Written):
        return "a keeper in the next village"
    if isinstance(question, Choice):
        return random.choice([value for value, _ in question.options]) if question.options else None
    return random.randint(question.least, question.most)
