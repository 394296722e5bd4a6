"""Make resources/about.json: distances, orbits and epochs from the hand-made tables."""

from build_tables import read_table, save_json

from companion.sky import load_catalogue, load_search


def build() -> int:
    """Write the file and give how many entries it holds.

    Raises
    ------
    SystemExit
        If two lines of the distances disagree about one object.
    """
    search, catalogue = load_search(), load_catalogue()
    distances: dict[str, float] = {}
    for row in read_table("distances"):
        key, value = search.resolve(row["name"]).key, float(row["distance_ly"])
        if distances.setdefault(key, value) != value:
            raise SystemExit(f"distances.csv: {row['name']} is told twice, not alike")
    for table in ("orbits", "epochs"):
        for row in read_table(table):
            catalogue.star(int(row["hip"]))
    orbits, epochs = _numbers("orbits"), _numbers("epochs")
    save_json("about.json", {"distances_ly": distances, "orbits": orbits, "epochs": epochs})
    return len(distances) + len(orbits) + len(epochs)


def _numbers(table: str) -> dict[str, dict[str, object]]:
    """Give the rows of a table by Hipparcos number, numbers as numbers, None where empty."""
    words = {"of", "source"}
    return {
        row.pop("hip"): {
            name: text if name in words else float(text) if text else None
            for name, text in row.items()
        }
        for row in read_table(table)
    }
