"""The layering check must fail on each thing it claims to catch, and pass a tree that is in order."""

import pathlib
import subprocess
import sys
import tempfile
import unittest

TOOLS = pathlib.Path(__file__).resolve().parents[2] / "tools"
TABLE = "measure:\nalmanac: measure\nledger: measure\n"
GOOD = {
    "measure/units.h": "#pragma once\n",
    "almanac/crops.h": '#include "measure/units.h"\n',
    "almanac/crops.cpp": '#include "almanac/crops.h"\n#include "almanac/detail/cells.h"\n',
    "almanac/detail/cells.h": "#include <nlohmann/json.hpp>\n",
}


def check(files, table=TABLE):
    with tempfile.TemporaryDirectory() as folder:
        root = pathlib.Path(folder)
        (root / "tools").mkdir()
        (root / "tools/layers.txt").write_text(table, encoding="utf-8")
        for name, text in files.items():
            path = root / "src" / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        run = subprocess.run([sys.executable, TOOLS / "check_layers.py", root], capture_output=True, text=True, check=False)
        return run.returncode, run.stdout


class CheckLayers(unittest.TestCase):
    def refuses(self, words, files, table=TABLE):
        code, output = check(GOOD | files, table)
        self.assertEqual(code, 1, output)
        self.assertIn(words, output)

    def test_passes_a_tree_in_order(self):
        self.assertEqual(check(GOOD), (0, "4 files, 0 problems\n"))

    def test_refuses_an_arrow_that_is_not_in_the_table(self):
        self.refuses("ledger may not include almanac", {"ledger/state.cpp": '#include "almanac/crops.h"\n'})

    def test_refuses_an_arrow_upwards(self):
        self.refuses("measure may not include ledger", {"ledger/a.h": "", "measure/b.h": '#include "ledger/a.h"\n'})

    def test_refuses_a_ring_of_files(self):
        self.refuses("in a ring", {"ledger/a.h": '#include "ledger/b.h"\n', "ledger/b.h": '#include "ledger/a.h"\n'})

    def test_refuses_a_ring_in_the_table(self):
        self.refuses("in a ring", {"x/a.h": "", "y/a.h": ""}, TABLE + "x: y\ny: x\n")

    def test_refuses_json_reached_by_a_face(self):
        self.refuses("src/almanac/face.h: draws in nlohmann/json.hpp",
                     {"almanac/face.h": '#include "almanac/detail/cells.h"\n'})

    def test_refuses_a_folder_without_a_line(self):
        self.refuses("src/cooking", {"cooking/a.h": ""})

    def test_refuses_a_file_that_is_not_there(self):
        self.refuses('there is no "measure/gone.h"', {"almanac/a.h": '#include "measure/gone.h"\n'})

    def test_refuses_the_inside_of_another_folder(self):
        self.refuses("inside of another folder",
                     {"measure/detail/x.h": "", "almanac/a.cpp": '#include "measure/detail/x.h"\n'})

    def test_refuses_a_bare_include(self):
        self.refuses("not written as folder/file.h", {"almanac/a.cpp": '#include "crops.h"\n'})

    def test_an_empty_tree_is_no_success(self):
        self.assertEqual(check({"measure/readme.txt": ""})[0], 1)


if __name__ == "__main__":
    unittest.main()
