"""``companion find``: what the catalogue holds under a name, a number or a position."""

import argparse

from companion.advice import AdviceError
from companion.commands.context import Context
from companion.commands.output import write_json, write_remarked
from companion.sky import Hit, hit_text, kind_text


def run(context: Context, options: argparse.Namespace) -> int:
    """Print what answers to the text, best first.

    Raises
    ------
    AdviceError
        If nothing does.
    """
    hits = context.search.find(options.text, limit=options.limit)
    if options.json:
        write_json({"text": options.text[:200], "hits": [_as_dict(hit) for hit in hits]})
    elif hits:
        rows = [_as_row(hit) for hit in hits]
        head = ("name", "what", "magnitude", "constellation")
        write_remarked(head, [row[:-1] for row in rows], [row[-1] for row in rows])
    if not hits:
        raise AdviceError(
            f"Nothing is called {options.text[:60]!r}.",
            "Try a catalogue number (M 31, NGC 224, HIP 91262), a name, or a position "
            '("05 35.3 -05 23").',
        )
    return 0


def _as_dict(hit: Hit) -> dict[str, object]:
    target = hit.target
    return {
        "key": target.key,
        "name": target.name,
        "kind": str(target.kind),
        "ra_deg": target.ra_deg,
        "dec_deg": target.dec_deg,
        "magnitude": target.magnitude,
        "constellation": target.constellation,
        "aliases": list(target.aliases),
        "match": str(hit.match),
        "matched": hit.shown,
    }


def _as_row(hit: Hit) -> tuple[str, ...]:
    target = hit.target
    magnitude = "" if target.magnitude is None else f"{target.magnitude:.1f}"
    return target.name, kind_text(target.kind), magnitude, target.constellation, hit_text(hit)
