"""Many writers at once, against the demonstration as it is served: nobody is refused, nothing is stored twice."""

from __future__ import annotations

import re
import urllib.parse
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from http.cookiejar import CookieJar

import pytest

from tests.journeys.conftest import Demo

pytestmark = pytest.mark.browser  # it shares the served demonstration with the browser's journeys


def test_writers_at_once_all_succeed_and_the_same_press_stores_once(demo: Demo) -> None:
    """Design, section 7: with these settings no request met a locked database, where the usual ones lost 6 %."""
    asker = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
    page = asker.open(demo.link).read().decode()
    token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', page)
    assert token is not None

    def keep(k: int) -> int:
        # Twenty different lists, each sent twice under its own key.
        fields = {
            "csrfmiddlewaretoken": token.group(1),
            "key": f"w{k % 20}",
            "names": "Ada N\nBao L",
            "name": f"Written {k % 20}",
        }
        data = urllib.parse.urlencode(fields).encode()
        return int(asker.open(f"{demo.base}/names/keep/", data).status)

    with ThreadPoolExecutor(10) as pool:
        assert list(pool.map(keep, range(40))) == [200] * 40
    page = asker.open(demo.base).read().decode()
    assert sorted(re.findall(r"<b>(Written \d+)</b>", page)) == sorted(f"Written {k}" for k in range(20))
