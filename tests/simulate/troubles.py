"""What befalls the people of a story: pages die, clocks jump, roles change, servers are set back to yesterday."""

from tests.simulate.server import SITES
from tests.simulate.world import ROLES, World

_BACKUPS_KEPT = 4


class Troubles(World):
    """A world with its troubles."""

    def befall(self) -> None:
        """Let something happen that nobody wished for, or that time brings."""
        often = {
            self._crash: 5, self._change_line: 6, self._time_passes: 3, self._clock_jumps: 2, self._late_letter: 8,
            self._change_grants: 2,
            self._back_up: 2, self._restore: 1, self._another_tab: 2, self._session_ends: 0.5,
        }  # fmt: skip
        deed = self.chance.weighted(
            {one: share * self.how.more.get(one.__name__, 1) for one, share in often.items()}
        )
        self.trace.note("befalls", deed.__name__, deed())

    def _crash(self) -> None:
        phone = self.chance.choice(self.phones)
        many = self.chance.happens(0.5)
        for tab in list(phone.tabs) if many else [self.chance.choice(phone.tabs)]:
            self.close_tab(tab)
        if not phone.tabs:
            self.open_tab(phone)

    def _another_tab(self) -> None:
        phone = self.chance.choice(self.phones)
        if len(phone.tabs) < 2:
            self.open_tab(phone)

    def _change_line(self) -> None:
        self.line = self.chance.choice(["good", "shaky", "shaky", "down"])

    def _time_passes(self) -> None:
        self.clock.pass_by(hours=self.chance.choice([1, 30, 24 * 8]))

    def _clock_jumps(self) -> None:
        self.chance.choice(self.phones).habits.skew = self.some_skew()

    def _late_letter(self) -> None:
        if self.late:
            letter, _ = self.late.pop(self.chance.randrange(len(self.late)))
            self.arrive(letter)

    def _change_grants(self) -> str:
        phone = self.chance.choice(self.phones[1:])
        device, site = self.device_of(phone), self.chance.choice(SITES)
        held = self.server.grants(device).get(site)
        role = self.chance.weighted({None: 2, "keeper": 3, "surveyor": 1, "helper": 1})
        if role and held and list(ROLES).index(role) > list(ROLES).index(held):
            role = held  # a link never takes a role away
        self.server.grant(device, site, role)
        if role and phone.tabs[0].open:
            # The person opened a link: the answer to it says what this device may now do.
            phone.tabs[0].spawn("enrol", self.quietly(self.syncings[phone.tabs[0]].refresh_me()))
        return f"{device} {site} {role}"

    def _back_up(self) -> None:
        self.backups = [*self.backups, self.judge.back_up()][-_BACKUPS_KEPT:]

    def _restore(self) -> None:
        if self.backups:
            self.clock.pass_by(minutes=1)
            self.judge.restore(self.chance.choice(self.backups))

    def _session_ends(self) -> None:
        phone = self.chance.choice(self.phones)
        if self.is_enrolled(phone):
            self.server.write(
                "UPDATE device SET ended_at='2026-11-25T09:00:00.000Z' WHERE id=?", self.device_of(phone)
            )
        else:
            self.enrol_anew(phone)
