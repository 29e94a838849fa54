"""A report put together; no clock, no disk."""

from __future__ import annotations

from dataclasses import replace

from voicelog.domain.report import Report
from voicelog.report.answers import answers
from voicelog.report.basis import basis_rows, overruled_lines
from voicelog.report.chain import NOTICE, chain_rows, made_rows, signed
from voicelog.report.cleaning import made_inert
from voicelog.report.coating_rows import coating_rows
from voicelog.report.drawing import KEY, drawing, drawing_in_words
from voicelog.report.evidence import lacking
from voicelog.report.items import items
from voicelog.report.material import Book, Material
from voicelog.report.over_time import change_rows, compared
from voicelog.report.page_one import HEADLINES, counts, next_steps, under
from voicelog.report.pictures import other_pictures
from voicelog.report.unseen import clear_places, past_lines, unseen_rows
from voicelog.report.vehicle_rows import condition_rows, title, vehicle_rows
from voicelog.report.work_rows import pointer_rows, work_cautions, work_rows
from voicelog.tongue import worded

WORST = 5
"""Findings that page one shows."""


def compose(material: Material) -> Report:
    """The report of one inspection, all of its text inert.

    Raises:
        LogFault: a line of the log holds a change or a signature that cannot be read.
    """
    book = Book(material)
    found, drive = items(book), material.inspection.verdict.drive
    headline = HEADLINES.get(drive, HEADLINES["not-enough-seen"])
    report = Report(
        title=title(book),
        drive=drive,
        headline=worded(headline),
        under=under(book),
        counted=counts(book),
        plan=drawing(book, title(book)),
        plan_alt=drawing_in_words(book),
        key=tuple(replace(row, meaning=worded(row.meaning)) for row in KEY),
        answers=answers(book),
        worst=found[:WORST],
        more=max(len(found) - WORST, 0),
        next_step=next_steps(book),
        vehicle=vehicle_rows(book),
        conditions=condition_rows(book),
        basis=basis_rows(book),
        overruled=overruled_lines(book),
        findings=found,
        clear=clear_places(book),
        work=work_rows(book),
        work_cautions=work_cautions(book),
        unseen=unseen_rows(book),
        past=past_lines(book),
        photos=other_pictures(book),
        lacking=lacking(book),
        changes=change_rows(book),
        compared=compared(book),
        coating=coating_rows(book),
        pointers=pointer_rows(book),
        cautions=material.rules.cautions,
        signatures=signed(book),
        chain=chain_rows(book),
        notice=worded(NOTICE),
        made=made_rows(book),
    )
    return made_inert(report, but=("plan",))
