"""Stands in the bundle for ICU's data, 32 MB that nothing in the program asks for.

Qt's core needs the library by name. What Qt takes from its data is how words are sorted and named
in each language, and old encodings of text; the program sorts by itself and reads UTF-8. ICU calls
an empty set of data "stub data" and ships one to be built against (ICU User Guide, "ICU Data",
data packaging; the layout below is its ``UDataInfo`` in ``udata.h``).
"""

import shutil
import subprocess
from pathlib import Path

_SOURCE = """
    .section .rodata
    .globl {entry}
    .type {entry}, %object
    .balign 16
{entry}:
    .short 32               /* bytes of this header */
    .byte 0xda, 0x27        /* how ICU knows it */
    .short 20, 0            /* bytes of what follows, reserved */
    .byte 0, 0, 2, 0        /* little-endian, ASCII, two bytes a character, reserved */
    .ascii "ToCP"           /* a table of contents with pointers */
    .byte 1, 0, 0, 0        /* its format */
    .byte 0, 0, 0, 0        /* version of the data */
    .zero 8                 /* up to the length of the header */
    .long 0, 0              /* no entry */
    .size {entry}, .-{entry}
    .section .note.GNU-stack,"",%progbits
"""


def empty_icu_data(bundle: Path, work: Path) -> None:
    """Put an empty set of data in the place of each ``libicudata`` of a bundle for Linux."""
    if shutil.which("as") is None or shutil.which("ld") is None:
        return
    for library in list(bundle.rglob("libicudata.so.*")):
        if library.is_symlink():
            continue
        source, object_file = work / "icu_data.s", work / "icu_data.o"
        version = library.name.rpartition(".")[2]
        source.write_text(_SOURCE.format(entry=f"icudt{version}_dat"))
        subprocess.run(["as", "-o", object_file, source], check=True)
        linked: list[str | Path] = [
            "ld",
            "-shared",
            "-soname",
            library.name,
            "-o",
            library,
            object_file,
        ]
        library.unlink()
        subprocess.run(linked, check=True)
