"""``companion rehearse``: questions about this evening's sky, to be answered indoors."""

import argparse
import sys

from companion.commands.context import Context
from companion.commands.learned import tries_of, write_practice
from companion.commands.night_given import conditions_of, iso
from companion.commands.output import write, write_json
from companion.commands.place import given_site, given_time
from companion.commands.remarks import heading
from companion.road import Question, missed_in_practice, rehearse

_LETTERS = "abcd"


def run(context: Context, options: argparse.Namespace) -> int:
    """Ask in a terminal, elsewhere print questions and answers; 1 if the sky gives none."""
    site = given_site(context, vars(options))
    utc = given_time(context, site, options.at)
    rehearsal = rehearse(
        context.ephemeris,
        context.catalogue,
        site,
        utc,
        conditions_of(site, options),
        count=options.questions,
        seed=options.seed,
        first=missed_in_practice(tries_of(context)),
    )
    questions = rehearsal.questions
    if options.json:
        asked = [_as_json(question) for question in questions]
        write_json(
            {"site": site.name, "utc": iso(rehearsal.utc), "seed": options.seed, "questions": asked}
        )
    else:
        write(heading(site, rehearsal.utc))
        if sys.stdin.isatty():
            _ask(context, questions)
        else:
            _print(questions)
    return 0 if questions else 1


def _as_json(question: Question) -> dict[str, object]:
    return {
        "kind": question.kind,
        "question": question.text,
        "choices": list(question.choices),
        "answer": question.answer,
        "why": question.why,
        "subject": question.subject,
        "look_azimuth_deg": question.azimuth_deg,
        "look_altitude_deg": question.altitude_deg,
    }


def _print(questions: tuple[Question, ...]) -> None:
    for number, question in enumerate(questions, 1):
        _write_question(number, question)
    write("answers:")
    for number, question in enumerate(questions, 1):
        write(f"{number}. {_LETTERS[question.right]}  {question.why}")


def _write_question(number: int, question: Question) -> None:
    write(f"{number}. {question.text}")
    for letter, choice in zip(_LETTERS, question.choices, strict=False):
        write(f"   {letter}  {choice}")


def _ask(context: Context, questions: tuple[Question, ...]) -> None:
    """Ask one after the other; what is answered counts as practice, never as seen."""
    right = 0
    for number, question in enumerate(questions, 1):
        _write_question(number, question)
        line = sys.stdin.readline(100)
        if not line:
            break
        known = line.strip().casefold() == _LETTERS[question.right]
        right += known
        write(("right: " if known else f"no, {_LETTERS[question.right]}: ") + question.why)
        write_practice(context, question.subject, found=known)
    write(f"{right} of {len(questions)} right")
