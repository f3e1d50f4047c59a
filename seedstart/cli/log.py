"""`seedstart log KIND …`: what was done or seen, written down."""

from importlib import import_module

import click

from seedstart.problems import BadInputError, Problem

# Kind → (module, one line for the list). A kind's module is loaded when it is called.
KINDS = {
    "soaked": ("log_seed", "Seed laid in water: log soaked LOT --hours 12"),
    "stratified": ("log_seed", "Seed laid cold and damp: log stratified LOT --days 28"),
    "scarified": ("log_seed", "Seed coats nicked: log scarified LOT"),
    "taken-out": ("log_seed", "The end of a soak or of cold: log taken-out LOT"),
    "sown": ("log_seed", "log sown pepper-long 24 --station 'heat mat'"),
    "counted": ("log_seedlings", "Seedlings standing now: log counted leek 18"),
    "dug": ("log_seedlings", "Seeds dug up and looked at: log dug leek --sound 2 --soft 3"),
    "lost": ("log_seedlings", "log lost leek 3 --why slugs"),
    "thinned": ("log_seedlings", "log thinned leek 10"),
    "given": ("log_seedlings", "log given leek 6 --to Ana"),
    "pricked-out": ("log_seedlings", "log pricked-out leek 60 --into 'tray 5:30, sill:30'"),
    "split": ("log_seedlings", "A sowing parted as it stands; as pricked-out"),
    "potted-on": ("log_seedlings", "log potted-on pepper-long --container '9 cm pot'"),
    "measured": ("log_seedlings", "Height and stem in mm: log measured leek '82/3.1, 75/2.9'"),
    "set-out": ("log_seedlings", "log set-out leek 40"),
    "finished": ("log_seedlings", "The end of a sowing: log finished leek"),
    "relabelled": ("log_seedlings", "Another name or lot for a sowing"),
    "mixed-up": ("log_seedlings", "Sowings that can no longer be told apart"),
    "covered": ("log_places", "log covered 'tray 5'"),
    "uncovered": ("log_places", "log uncovered 'tray 5'"),
    "moved": ("log_places", "log moved leek 'shelf 2'"),
    "watered": ("log_places", "log watered 'shelf 2' --ml 500"),
    "fed": ("log_places", "log fed leek --ppm-n 50"),
    "weighed": ("log_places", "log weighed 'tray 5' 1700 now"),
    "read": ("log_places", "log read 'heat mat' 23.5C"),
    "adjusted": ("log_places", "log adjusted 'heat mat' --thermostat 24C"),
    "hardened": ("log_places", "Hours out today: log hardened leek 3"),
    "held": ("log_places", "Kept in today: log held leek --why windy"),
    "checked": ("log_words", "A check done, an alert seen, by its key"),
    "put-off": ("log_words", "A check left for later: log put-off KEY --until sat"),
    "planned": ("log_words", "A lot's keys anew: log planned leek want=80"),
    "forecast": ("log_words", "log forecast 2027-05-02 --tmin 3C"),
    "noted": ("log_words", "log noted 'white fluff on the mix' --about mould --tray 'tray 5'"),
    "take-back": ("log_words", "Takes back your last act; or entries by id; --at its time"),
}
# As they were called: not listed, and still understood.
_WERE = {"struck": "take-back"}


class KindGroup(click.Group):
    """Kinds by name, with - or _, loaded one at a time."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002, D102
        return list(KINDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002, D102
        name = cmd_name.replace("_", "-").casefold()
        name = _WERE.get(name, name)
        if name not in KINDS:
            raise BadInputError(
                [
                    Problem(
                        file="log",
                        found=cmd_name,
                        allowed=tuple(KINDS),
                        listed_by="seedstart log --help",
                    )
                ]
            )
        module = import_module(f"seedstart.cli.{KINDS[name][0]}")
        command: click.Command = module.COMMANDS[name]
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """The list of kinds, without loading them."""
        with formatter.section("Kinds"):
            formatter.write_dl([(name, line) for name, (_, line) in KINDS.items()])


@click.group(cls=KindGroup)
def log() -> None:
    """Write down what was done or seen; each entry is on the disk before it is confirmed.

    Every kind takes --at 'sat 18:00' for a past time. Names may be a lot's while only one of its
    sowings is alive.

    Example: seedstart log counted leek 18
    """
