"""Damaged and malicious pictures get a sentence: no 500, under 300 MB of memory, none takes over two seconds.

MAKEGOOD_BENT_IMAGES sets how many are sent (default 150).
"""

import json
import os
import subprocess
import sys

import pytest

COUNT = int(os.environ.get("MAKEGOOD_BENT_IMAGES", "150"))
MOST_MB, LONGEST_S = 300, 2.0


@pytest.mark.skipif(sys.platform != "linux", reason="the most memory held is told in kilobytes only on Linux")
def test_bent_pictures_get_a_sentence_in_little_time_and_memory():
    words = [sys.executable, "-m", "tests.faults.bent_images", str(COUNT), "11"]
    done = subprocess.run(words, check=False, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr[-2000:]
    told = json.loads(done.stdout.splitlines()[-1])
    assert set(told["statuses"]) <= {"201", "200", "204", "413", "415", "422"}, told
    assert sum(told["statuses"].values()) == COUNT
    assert set(told["codes"]) <= {
        "taken",
        "photo_too_large",
        "not_a_picture",
        "picture_damaged",
        "picture_too_many_pixels",
    }, told
    assert len(told["codes"]) >= 4, told
    assert told["peak_mb"] < MOST_MB, told
    assert told["slowest_s"] < LONGEST_S, told
