"""`python -m endfloat` is the program `endfloat`."""

from endfloat.cli.main import run

if __name__ == "__main__":
    run()
