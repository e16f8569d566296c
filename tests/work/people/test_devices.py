"""Taking away a device's part in a site."""

from datetime import UTC, datetime, timedelta

import pytest

from makegood.domain.row import write_instant
from makegood.errors import Conflict, NotAllowed, NotFound
from makegood.store import device as devices
from makegood.store.database import writing
from makegood.work.people.devices import devices_here, revoke_device
from tests.make import make_guest, make_id


def now():
    return datetime.now(UTC)


def device_of(phone):
    return devices.device(phone.device_id)


def test_revoked_device_is_off_the_list_and_has_no_part(app, grounds):
    guest = make_guest(app, grounds.keeper, grounds.site, "helper", "Hal")
    with app.app_context():
        keeper = device_of(grounds.keeper)
        revoke_device(keeper, grounds.site, guest.device_id, now(), 60)
        assert [one.place.device_id for one in devices_here(keeper, grounds.site)] == [keeper.id]
        assert device_of(guest).grants == {}
        with pytest.raises(NotFound):
            revoke_device(keeper, grounds.site, guest.device_id, now(), 60)


def test_keeper_whose_session_ran_out_does_not_count_as_one_who_could_let_in_again(app, grounds):
    make_guest(app, grounds.keeper, grounds.site, "keeper", "Kim")
    with app.app_context():
        keeper = device_of(grounds.keeper)
        late = now() + timedelta(days=61)
        with pytest.raises(NotAllowed):
            revoke_device(keeper, grounds.site, keeper.id, late, 60)
        with writing():
            devices.mark_seen(keeper.id, write_instant(late))
        with pytest.raises(Conflict):
            revoke_device(keeper, grounds.site, keeper.id, late, 60)


def test_keeper_sent_away_meanwhile_sends_nobody_away(app, grounds):
    second = make_guest(app, grounds.keeper, grounds.site, "keeper", "Kim")
    with app.app_context():
        first_as_known, second_as_known = device_of(grounds.keeper), device_of(second)
        revoke_device(first_as_known, grounds.site, second.device_id, now(), 60)
        with pytest.raises(NotAllowed):
            revoke_device(second_as_known, grounds.site, grounds.keeper.device_id, now(), 60)


@pytest.mark.parametrize("role", ["surveyor", "reader"])
def test_only_keepers_see_and_revoke(app, grounds, role):
    guest = make_guest(app, grounds.keeper, grounds.site, role, "Guest")
    with app.app_context():
        for deed in (
            lambda: devices_here(device_of(guest), grounds.site),
            lambda: devices_here(device_of(guest), make_id()),
            lambda: revoke_device(device_of(guest), grounds.site, guest.device_id, now(), 60),
        ):
            with pytest.raises(NotAllowed):
                deed()
