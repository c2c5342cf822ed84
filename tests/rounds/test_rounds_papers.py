"""Backups on the phone: what they say of photos, and photos back from one."""

from __future__ import annotations

import pytest

from fieldapp.words import Speech

speech = Speech()
PHOTO = b"\xff\xd8\xff a photo"


@pytest.fixture
def phone(phone):
    """Return a phone with one photo beside a look; what takes long is done at once."""
    phone.set_up(1)
    phone.kit.papers._background = lambda work: work()
    look = phone.write("look", {"brood": "yes"}, hive=phone.hives()[0])
    phone.files = phone.kit.papers._files
    digest = phone.files.put(PHOTO)
    body = {"sha256": digest, "type": "image/jpeg", "size": len(PHOTO)}
    phone.write("photo", body, adds_to=look.id)
    phone.digest = digest
    return phone


def said(phone) -> str:
    return speech(phone.kit.papers.out.words)


def test_a_backup_says_how_many_photos_are_in_it_and_brings_them_back(phone):
    """The photo lost, the records there: it comes back, and is there once."""
    papers = phone.kit.papers
    papers.backup()
    assert said(phone).endswith("was read back whole. 1 photo is in it.")
    [file] = papers.backups()
    papers.restore(file)
    assert said(phone) == "Everything in this backup is here already."
    phone.files.path(phone.digest).unlink()
    papers.restore(file)
    assert said(phone) == "1 photo came back."
    assert phone.files.read(phone.digest) == PHOTO


def test_a_photo_that_is_elsewhere_is_named_in_number(phone):
    """On the phone that took it; the backup is whole without it."""
    phone.files.path(phone.digest).unlink()
    phone.kit.papers.backup()
    assert phone.kit.papers.out.ok
    assert said(phone).endswith("1 photo is not on this phone, and not in it.")
