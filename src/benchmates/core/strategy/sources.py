"""What an evidence mark stands for, in words a teacher can follow up."""

from __future__ import annotations

KINDS = {
    "M": "Published work recalled from memory: check it before you quote it.",
    "C": "Common practice; no claim of proof.",
    "K": "Calculated.",
}
SOURCES = {
    "S1": "DfES (2004) Pedagogy and practice, Unit 10: Group work.",
    "S2": "University of Waterloo, Centre for Teaching Excellence: tip sheet on small groups.",
    "S3": "University of Nottingham, teacher-training page on activities for talk.",
    "S4": "Two training handouts on envoys and jigsaw.",
    "S5": "Learning and Teaching Scotland, glossary: rainbow groups.",
    "S6": "Aronson (1978) on the jigsaw.",
    "S7": "W&M pages on collaboration: fishbowl, rotating threes.",
    "S8": "Börekçi, study of visual 6-3-5 (abstract).",
    "S9": "Shah and others (2001), C-Sketch (abstract).",
    "S10": "van der Lugt, brainsketching (abstract).",
    "S11": "Blatchford and Baines, Improving group work.",
    "S14": "Summary of the SPRinG programme of group work.",
}


def told(mark: str) -> str:
    """What stands behind a mark; the mark itself where a teacher's own file names a source not listed here."""
    return KINDS.get(mark) or SOURCES.get(mark) or f"Source {mark}."
