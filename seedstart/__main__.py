"""The door: runs the command line."""

from seedstart.cli.main import cli


def main() -> None:
    """Run `seedstart`."""
    cli()


if __name__ == "__main__":
    main()
