"""The record book for an inspector: as text, CSV and PDF, alike from phone and server.

    source = gather(journal)
    book = record_book(source, day, apiary)
    as_pdf(book, Speech())

The book only reads; what is wrong in it is corrected in the journal.
"""

from fieldapp.papers.building import record_book
from fieldapp.papers.model import RecordBook
from fieldapp.papers.source import Source, gather

__all__ = ["RecordBook", "Source", "gather", "record_book"]
