"""A third world: jobs made from physics alone, mapped by the program and judged.

    python3 .ci/thirdworld --jobs 12 --first-seed 1000 [--family F] [--program BIN]
        [--keep DIR] [--cases]
    python3 .ci/thirdworld --check

From the repository's root. It stands beside the two simulators in Go and shares nothing
with them nor with the estimators, which whoever wrote it had not read: a mistake that
simulator and estimator have in common does not show in their own measurements, and does
here. Its field is the law of Biot and Savart over filaments that bend; sources stand at
the top of each file, 'common practice, no source' or 'judgement' beside ranges that have
none. The judge reads the map's files alone.

Seeds from 1000 on are for measuring: look at their tables and never at their jobs one by
one; find out why on seeds below. --cases lists the jobs that are wrong and silent.

Twelve jobs of each family take some minutes on two cores. Needs Python 3.11 with numpy,
scipy and shapely, on Debian python3-numpy, python3-scipy and python3-shapely.
"""
import os

# Each core has a job of its own; threads beside it would wait for each other. Before numpy.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse  # noqa: E402
import json  # noqa: E402
import shutil  # noqa: E402
import subprocess  # noqa: E402
import sys  # noqa: E402
import tempfile  # noqa: E402
from concurrent.futures import ProcessPoolExecutor  # noqa: E402
from pathlib import Path  # noqa: E402

import check  # noqa: E402
import tables  # noqa: E402
from families import FAMILIES  # noqa: E402
from job import make  # noqa: E402
from judge import Verdict, judge  # noqa: E402

FIRST_FOR_MEASURING = 1000
REPOSITORY = Path(__file__).resolve().parents[2]


def build(folder: Path) -> Path:
    program = folder / "loamline"
    subprocess.run(["go", "build", "-o", program, "./cmd/loamline"],
                   cwd=REPOSITORY, check=True)
    return program


def measure(program: Path, family: str, seed: int, parent: Path) -> Verdict | str:
    """Makes a job, has it mapped, and judges the map; or says why there is no job."""
    try:
        folder = make(family, seed, parent)
    except ValueError as error:  # a draw that left no room
        return f"{family}-{seed}: {error}"
    shutil.rmtree(folder / "map", ignore_errors=True)  # of an earlier run
    done = subprocess.run([program, "map", folder / "trace.csv", "--job", folder / "job.toml",
                           "--out", folder / "map", "--strict"],
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
    (folder / "said.txt").write_text(done.stdout)
    drawn = folder / "map" / "job.geojson"
    told = json.loads(drawn.read_text()) if drawn.exists() else None
    truth = json.loads((folder / "truth.json").read_text())
    return judge(folder.name, done.returncode, truth, told)


def measure_all(program: Path, families: list[str], seeds: range, parent: Path):
    """Verdicts in the order of families and seeds, and what could not be made."""
    with ProcessPoolExecutor() as pool:
        waiting = [pool.submit(measure, program, family, seed, parent)
                   for family in families for seed in seeds]
        results = [w.result() for w in waiting]
    return ([r for r in results if isinstance(r, Verdict)],
            [r for r in results if isinstance(r, str)])


def report(verdicts: list[Verdict], failed: list[str], seeds: range, with_cases: bool):
    print(f"# A third world, seeds {seeds.start} to {seeds.stop - 1}\n\n"
          f"Made by `python3 .ci/thirdworld --jobs {len(seeds)} --first-seed {seeds.start}`. "
          f"{tables.LEGEND}\n")
    for title, by, key in (
            ("All families", "family", lambda v: v.params["family"]),
            ("By kind of positions", "positions", lambda v: v.params["grade"]),
            ("By columns", "columns", lambda v: v.params["colset"])):
        print(f"## {title}\n\n{tables.table(verdicts, by, key)}\n")
    if failed:
        print("## Not made\n\n" + "\n".join(f"- {f}" for f in failed) + "\n")
    if with_cases:
        print(f"## Wrong and silent\n\n{tables.cases(verdicts)}")


def main():
    parser = argparse.ArgumentParser(prog="thirdworld", description=__doc__.split("\n")[0])
    parser.add_argument("--jobs", type=int, default=12, help="of each family")
    parser.add_argument("--first-seed", type=int, default=FIRST_FOR_MEASURING)
    parser.add_argument("--family", action="append", choices=FAMILIES, help="all by default")
    parser.add_argument("--program", type=Path, help="built from the sources by default")
    parser.add_argument("--keep", type=Path, help="a folder to keep jobs and maps in")
    parser.add_argument("--cases", action="store_true",
                        help="list what is wrong and silent: for seeds below 1000")
    parser.add_argument("--check", action="store_true", help="check simulator and judge")
    given = parser.parse_args()
    if given.check:
        return check.run()
    seeds = range(given.first_seed, given.first_seed + given.jobs)
    with tempfile.TemporaryDirectory(prefix="thirdworld-") as scratch:
        program = given.program.resolve() if given.program else build(Path(scratch))
        verdicts, failed = measure_all(program, given.family or list(FAMILIES), seeds,
                                       given.keep or Path(scratch))
    report(verdicts, failed, seeds, given.cases)
    return 0


if __name__ == "__main__":
    sys.exit(main())
