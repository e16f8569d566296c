"""One seed from beginning to end: people, phones, the line and the server, then quiet, then the judge."""

from tests.simulate.judge.bench import Broken, visible
from tests.simulate.phone.screen import Phone
from tests.simulate.server import Server
from tests.simulate.troubles import Troubles
from tests.simulate.world import STANDARD, How, Outcome

_MOST_ROUNDS = 200
_MOST_STEPS = 60_000


class Story(Troubles):
    """What happens, and how it ends."""

    def quiet(self) -> None:
        """A good line and nothing more happening: all must come together, and soon (I9)."""
        self.wild, self.line = False, "good"
        self.drain()
        while self.late:
            self._late_letter()
        for phone in self.phones:
            if not self.is_enrolled(phone):
                self.enrol_anew(phone)
        self.drain()
        for phone in self.phones:
            if phone.disk.stores.meta["me"]["grants"] != self.server.grants(self.device_of(phone)):
                phone.tabs[0].spawn("me", self.quietly(self.syncings[phone.tabs[0]].refresh_me()))
            phone.tabs[0].spawn("photos", self.syncings[phone.tabs[0]].retry_photos())
        lacking = self.phones
        for _ in range(_MOST_ROUNDS):
            for phone in lacking:
                self.clock.pass_by(minutes=1)
                self.drain()
                self.sync(phone.tabs[0])
                self.drain()
            lacking = [phone for phone in self.phones if self._lacks_something(phone)]
            if not lacking:
                break
        else:
            raise Broken(
                f"I9 phones {[one.number for one in lacking]} are not done after {_MOST_ROUNDS} rounds"
            )
        for phone in self.phones:
            if problem := self.syncings[phone.tabs[0]].problem:
                raise Broken(f"I9 phone {phone.number} cannot sync on a good line: {problem}")
        self.judge.after_quiet(self.phones)

    def _lacks_something(self, phone: Phone) -> bool:
        """Tell whether a phone has something to send or to fetch."""
        stores = phone.disk.stores
        parked = {one["op"]["id"] for one in stores.parked.values()}
        waiting = [job for job in stores.photo_jobs.values() if job["state"] == "waiting"]
        photos_wait = any(not parked.issuperset(job["photo_ids"]) for job in waiting)
        since = stores.meta.get("since") or {}
        grants = self.server.grants(self.device_of(phone))
        behind = [
            row_type
            for site, role in grants.items()
            for (row_type,) in self.server.query(
                "SELECT type FROM change WHERE site_id=? AND rev>?", site, since.get(site, 0)
            )
            if row_type in visible(role)
        ]
        return bool(stores.outbox or photos_wait or behind or set(since) != set(grants))

    def drain(self) -> None:
        """Let every task come to its end."""
        for _ in range(_MOST_STEPS):
            self.judge.step += 1
            if not self.go_on():
                return
        raise Broken(f"I9 no end after {_MOST_STEPS} steps")


def play(server: Server, seed: int, how: How = STANDARD) -> Outcome:
    """Run one seed; the outcome says what broke, if anything did."""
    story = Story(server, seed, how)
    fault = None
    try:
        story.run()
        story.quiet()
    except Broken as broken:
        fault = str(broken)
    finally:
        for tab in story.tabs():
            story.close_tab(tab)
    return Outcome(seed, story.trace.digest.hexdigest(), server.requests, fault, tuple(story.trace.lines))
