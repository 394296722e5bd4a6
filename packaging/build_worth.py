"""Make resources/worth.json: what is worth a look with what, and why, from the hand-made table."""

from build_tables import read_table, save_json

from companion.advice import AdviceError
from companion.sky import load_catalogue

WAYS = ("eye", "binoculars", "telescope", "visitors")


def build() -> int:
    """Write the file and give how many targets it holds.

    Raises
    ------
    SystemExit
        If a target stands there twice, or the catalogue does not know it.
    """
    rows = read_table("worth")
    keys = [row["key"] for row in rows]
    if len(set(keys)) < len(keys):
        raise SystemExit("worth.csv has a target twice")
    catalogue = load_catalogue()
    for key in keys:
        try:
            catalogue.target(key)
        except AdviceError as error:
            raise SystemExit(f"worth.csv: {error}") from error
    save_json(
        "worth.json",
        {
            row["key"]: {way: float(row[way]) for way in WAYS if row[way]}
            | {"reason": row["reason"]}
            for row in rows
        },
    )
    return len(rows)
