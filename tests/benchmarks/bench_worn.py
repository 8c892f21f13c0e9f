"""Labels printed, worn, photographed badly and read by zxing-cpp, in percent for each level of error correction.

The levels are those of ISO/IEC 18004: L restores 7 % of the code words, M 15 %, Q 25 %, H 30 %. All are printed equally
large, so a level with more modules has smaller ones. What no level helps against is a blot on one of the three corner
squares: for that the characters stand beside the code.

    python tests/benchmarks/bench_worn.py [labels worn in each way]
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from parts.domain.tagcodes import printed_address
from parts.labels.kinds import PartLabel
from tests import wear


def main(times: int = 100) -> None:
    code = "7K3M9QZ2"
    label = PartLabel(code=code, address=printed_address("http://cotter.local:8000", code), title="Axlebox")
    with tempfile.TemporaryDirectory() as folder:
        print(wear.as_lines(wear.table(label, Path(folder), list(wear.WEARS), times)))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
