"""Entry point: `oakum ...` and `python -m oakum ...`."""

from __future__ import annotations


def main() -> None:
    """Run the command line."""
    from oakum.cli.main import run

    run()


if __name__ == "__main__":
    main()
