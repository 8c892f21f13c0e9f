"""A 12-megapixel photograph made into its two pictures, against the least that this can cost.

Floor: the file decoded by libjpeg straight to half its size, reduced to 1600 pixels and to 320, both written; nothing
turned, nothing checked, no colours minded. It is the least that the same decoder, filter and writer can do. Beside it
stands the way without thinking: everything decoded, turned, and reduced twice from the whole.
Goals: at most 1.4 times the floor, and at most 48 MiB more than the libraries themselves take, in a process of its own.

    python tests/benchmarks/bench_photos.py
"""

import subprocess
import sys
import time
from io import BytesIO
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

import numpy as np
from PIL import ExifTags, Image, ImageOps

ROUNDS = 15
WIDTH, HEIGHT = 4000, 3000


def photograph() -> bytes:
    """Twelve megapixels with about as much in them as a photograph has, held upright."""
    draw = np.random.default_rng(1)
    layers = np.zeros((HEIGHT, WIDTH, 3), np.float32)
    for blocks, strength in ((8, 60), (60, 40), (400, 25), (2000, 12)):
        small = draw.uniform(-1, 1, (blocks * 3 // 4, blocks, 3)) * strength
        for band in range(3):
            layer = Image.fromarray(small[:, :, band].astype(np.float32)).resize(
                (WIDTH, HEIGHT), Image.Resampling.BICUBIC
            )
            layers[:, :, band] += np.asarray(layer)
    notes = Image.Exif()
    notes[ExifTags.Base.Orientation] = 6
    file = BytesIO()
    Image.fromarray(np.clip(layers + 128, 0, 255).astype(np.uint8)).save(file, "JPEG", quality=90, exif=notes)
    return file.getvalue()


def written(picture: Image.Image) -> bytes:
    file = BytesIO()
    picture.save(file, "JPEG", quality=82)
    return file.getvalue()


def floor(data: bytes) -> None:
    picture = Image.open(BytesIO(data))
    picture.draft("RGB", (1600, 1200))
    large = picture.resize((1600, 1200), Image.Resampling.BICUBIC)
    written(large)
    written(large.resize((320, 240), Image.Resampling.BICUBIC, reducing_gap=2.0))


def without_thinking(data: bytes) -> None:
    upright = ImageOps.exif_transpose(Image.open(BytesIO(data)))
    for longest in (1600, 320):
        copy = upright.copy()
        copy.thumbnail((longest, longest), Image.Resampling.BICUBIC, reducing_gap=None)
        written(copy)


def ours(data: bytes) -> None:
    from parts.photos.pictures import make_pictures

    make_pictures(BytesIO(data))


def in_turn(works, data: bytes) -> list[float]:
    """The least time of each, over many rounds run in turn."""
    least = [float("inf")] * len(works)
    for _ in range(ROUNDS):
        for n, work in enumerate(works):
            start = time.perf_counter()
            work(data)
            least[n] = min(least[n], time.perf_counter() - start)
    return least


def memory(data: bytes, work: str) -> tuple[float, float]:
    """The peak of a process of its own, in MiB: when the libraries and the file are there, and at the end.

    Read from Linux: what the resource module tells is handed down from the process that started this one.
    """
    script = (
        "import sys, re; sys.path[:0] = sys.argv[1:3]\n"
        "import bench_photos, parts.photos.pictures\n"
        "data = sys.stdin.buffer.read()\n"
        "peak = lambda: int(re.search(r'VmHWM:\\s+(\\d+)', open('/proc/self/status').read())[1]) / 1024\n"
        f"before = peak(); bench_photos.{work}(data); print(before, peak())"
    )
    here = Path(__file__).parent
    answer = subprocess.run(
        [sys.executable, "-c", script, str(here), str(here.parents[1])], input=data, capture_output=True, check=True
    )
    before, after = map(float, answer.stdout.split())
    return before, after


def main() -> None:
    data = photograph()
    print(f"a photograph of {WIDTH} × {HEIGHT}, {len(data) / 1024**2:.1f} MiB")
    works = (floor, ours, without_thinking)
    least = in_turn(works, data)
    for work, seconds in zip(works, least, strict=True):
        before, after = memory(data, work.__name__)
        print(
            f"  {work.__name__:17s} {seconds * 1000:5.0f} ms, {seconds / least[0]:4.2f} of the floor;"
            f" {after - before:4.0f} MiB on top of {before:.0f}"
        )
    print("  goal: 1.4 of the floor, 48 MiB")


if __name__ == "__main__":
    main()
