"""Which files records name: as long as one version keeps a photo, its file stands."""

from __future__ import annotations

from journal_making import HIVE, KEEPER, WHEN, note

from fieldapp.journal.named_files import named_files
from fieldapp.journal.record import Draft

ONE, TWO = "1" * 64, "2" * 64


def photo(root: str, digest: str, kind: str = "photo", **more) -> Draft:
    body = {"sha256": digest, "type": "image/jpeg", "size": 9}
    return Draft(kind, WHEN, KEEPER, body, hive=HIVE, adds_to=root, **more)


def test_a_file_stands_until_every_record_that_names_it_is_taken_back(device):
    """A photo beside two looks and a voice note; then one void after the other."""
    journal = device().journal
    looks = [each.id for each in journal.write([note("a"), note("b")])]
    drafts = [photo(looks[0], ONE), photo(looks[1], ONE), photo(looks[1], TWO, "voice")]
    written = journal.write(drafts)
    assert named_files(journal) == ({ONE, TWO}, set())
    for each, left in zip(written, ({ONE, TWO}, {TWO}, set()), strict=True):
        void = photo(str(each.adds_to), each.body["sha256"], each.kind, corrects=each.id, void=True)
        journal.write([void])
        assert named_files(journal) == (left, {ONE, TWO} - left)


def test_where_versions_stand_side_by_side_the_file_stands(device):
    """One took it back, another put its words right: until the keeper says which, it stays."""
    journal = device().journal
    [look] = journal.write([note()])
    [kept] = journal.write([photo(look.id, ONE)])
    [mended] = journal.write([photo(look.id, ONE, corrects=kept.id)])
    [void] = journal.write([photo(look.id, ONE, corrects=kept.id, void=True)])
    assert named_files(journal) == ({ONE}, set())
    heads = (void.id, mended.id)
    journal.write([photo(look.id, ONE, corrects=kept.id, heads=heads, void=True)])
    assert named_files(journal) == (set(), {ONE})


def test_a_digest_in_words_names_no_file(device):
    """What only looks like it: a note that speaks of one, and no record at all."""
    journal = device().journal
    assert named_files(journal) == (set(), set())
    journal.write([note(f'"sha256" {ONE}')])
    assert named_files(journal) == (set(), set())
