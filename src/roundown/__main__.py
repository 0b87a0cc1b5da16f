"""`python -m roundown`."""

from roundown.cli.main import run

if __name__ == "__main__":
    run()
