"""What was kept under one build of the app and not sent goes up under the next."""

import re

import pytest
from playwright.sync_api import expect

from tests.e2e import test_install as install
from tests.e2e import walk
from tests.e2e.access.looking import look

pytestmark = pytest.mark.e2e

copied, server, phone = install.copied, install.server, install.phone


def test_work_kept_without_signal_under_the_first_build_is_sent_by_the_second(copied, server, phone):
    page = phone.page
    server.stop()
    walk.keep_mark(page)
    walk.expect_waiting(page)
    page = phone.fresh_page()
    page.goto(server.address)
    walk.expect_waiting(page)
    assert page.evaluate("document.body.dataset.build") is None

    # The push fails on the way up while the new build comes: the work is still here when the second build starts.
    page.context.route("**/api/sync/push", lambda route: route.abort())
    install._publish(copied, whole=True)
    server.start()
    page.evaluate("document.dispatchEvent(new Event('visibilitychange', {bubbles: true}))")
    bar = page.get_by_role("status").filter(has_text="A new version is ready.")
    expect(bar).to_be_visible(timeout=walk.ONCE_ONLINE_MS)
    assert not look(phone, "update-bar", "en")
    walk.expect_waiting(page)
    bar.get_by_role("button", name="Use it now").click()
    expect(page.locator("body")).to_have_attribute("data-build", "second")
    walk.expect_waiting(page)
    page.context.unroute("**/api/sync/push")
    walk.to_phone_page(page)
    page.get_by_role("button", name="Send now").click()
    walk.expect_sent(page)
    walk.open_wall(page, "South")
    expect(walk.found_here(page, re.compile("Spalling"))).to_have_count(1)
