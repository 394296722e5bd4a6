import subprocess
import sys


def test_plain_records_and_dials_need_no_numpy() -> None:
    # The window paints before numpy is read.
    code = (
        "import sys\n"
        "from companion.mount import Mount, Dial, Sighting, CountedFrom, PLAIN_MOUNT\n"
        "from companion.mount import shown, parse_reading, parse_mount, parse_sightings\n"
        "shown(Dial(), parse_reading(Dial(), '142½'))\n"
        "parse_mount('name = \"plain\"')\n"
        "assert 'numpy' not in sys.modules\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
