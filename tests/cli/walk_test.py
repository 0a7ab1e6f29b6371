"""One scripted walk through the command line, from twelve lots to jars and back. STILLROOM_BINARY names the program."""

import json
import os
import subprocess
import unittest
import urllib.request

from household import Household, free_port

LOTS = [
    "1 bu pears, firm, on the counter", "35 lb tomatoes, ripe, on the counter", "20 lb plums, ripe, on the counter",
    "1/2 bu green beans, firm, in the fridge", "30 lb apples, firm, on the counter",
    "25 lb cabbages, firm, on the counter", "20 lb beets, firm, on the counter",
    "12 lb cucumbers, firm, on the counter", "6 lb raspberries, ripe, in the fridge",
    "40 lb onions, firm, on the counter", "10 lb sweet peppers, firm, on the counter",
    "5 lb spinach, firm, in the fridge"]


class Walk(Household):
    def test_order(self):
        """Twelve lots have an order, with reasons, and a soft one changes it."""
        ids = [self.bring_in(line) for line in LOTS]
        day = self.today()
        self.assertEqual({s["lot"] for s in day["strips"]}, set(ids))
        costs = [s["cost_of_waiting"] for s in day["strips"]]
        self.assertEqual(costs, sorted(costs, reverse=True))
        self.assertTrue(day["next"]["title"] and day["next"]["why"])
        self.assertTrue(all(s["next_move"] or s["let_go_reason"] for s in day["strips"]))
        before = {s["lot"]: s for s in day["strips"]}[ids[0]]
        self.done("look", "pears", "soft")
        after = {s["lot"]: s for s in self.today()["strips"]}[ids[0]]
        self.assertEqual(after["condition"], "soft")
        self.assertLess(after["days_left"]["likely"], before["days_left"]["likely"])
        self.assertNotEqual(after["marks"], before["marks"])
        self.assertIn("breaks no constraint", self.said("check", "--plan"))

    def test_sorted(self):
        """A basket is sorted."""
        self.bring_in("20 lb pears, firm, on the counter")
        self.done("sort", "pears", "14 lb firm", "5 lb soft, fridge", "--discard", "1 lb")
        self.assertEqual(sorted(s["condition"] for s in self.today()["strips"]), ["firm", "soft"])
        self.assertEqual(self.refused("sort", "no such lot", "1 lb firm")["ok"], False)

    def test_canned(self):
        """A canning batch goes to jars, two are taken, and it is undone."""
        self.bring_in("20 lb plums, ripe, on the counter")
        batch = self.done("batch", "start", "plum/canned_puree", "plums")["id"]
        view = self.done("batch", "show", batch)
        # Fruit purees, quarts, 1,001 to 6,000 ft: 20 min (USDA AIB-539 Guide 2, table for fruit purees).
        self.assertEqual((view["process"]["time"], view["process"]["jar"]), ("20 min", "quart"))
        self.assertTrue(view["process"]["source"] and view["defer_to"])
        minute = 0
        for step in view["steps"]:
            for what in ("begin", "finish"):
                minute += 20
                self.done("batch", what, batch, step["stage"], at=f"2026-09-14T{12 + minute // 60}:{minute % 60:02}:00Z")
        evening = "2026-09-14T20:00:00Z"
        self.assertEqual(self.refused("batch", "pack", batch, "60", at=evening)["code"], "more_packs_than_made")
        packed = self.done("batch", "pack", batch, "6", at=evening)["id"]
        tomorrow = "2026-09-15T20:00:00Z"
        self.done("batch", "seals", packed, "6", "0", at=tomorrow)

        def packs():
            return [p["packs"] for shelf in self.done("larder", at=tomorrow)["shelves"] for p in shelf["packs"]]

        self.assertEqual(packs(), [6])
        self.done("take", "plums", "2", at=tomorrow)
        self.assertEqual(packs(), [4])
        self.assertEqual(self.refused("take", "plums", "9", at=tomorrow)["code"], "more_than_there")
        self.done("undo", at=tomorrow)
        self.assertEqual(packs(), [6])
        self.said("check", at=tomorrow)

    def test_process(self):
        """A food of several words, at the altitude of the household or another; unknown altitude shows nothing."""
        # USDA AIB-539 Guide 4, snap beans: quarts 25 minutes at 15 lb above 1,000 ft, at 10 lb below (weighted gauge).
        asked = ("process", "green", "beans", "--form", "snap", "--canner", "weighted", "--jar", "quart")
        self.assertIn("25 minutes at 15 psi", self.said(*asked))
        self.assertIn("25 minutes at 10 psi", self.said(*asked, "--altitude", "600 ft"))
        self.assertEqual(self.refused("process", "garlic", "in", "oil")["code"], "not_safe_to_can")
        self.assertIn("dill", self.said("about", "dill", "weed").lower())

    def test_trouble(self):
        """A boil that stopped starts the whole time again, and what was not processed is not packed."""
        self.bring_in("20 lb plums, ripe, on the counter")
        batch = self.done("batch", "start", "plum/canned_puree", "plums")["id"]
        stage = next(s["stage"] for s in self.done("batch", "show", batch)["steps"] if s["shows_process"])
        self.assertEqual(self.refused("batch", "pack", batch, "6")["code"], "not_processed")
        self.done("batch", "begin", batch, stage, at="2026-09-14T13:00:00Z")
        self.assertEqual(self.refused("batch", "put-down", batch, stage, at="2026-09-14T13:01:00Z")["code"],
                         "cannot_be_put_down")
        early = self.refused("batch", "finish", batch, stage, at="2026-09-14T13:01:00Z")
        self.assertEqual(early["code"], "process_too_short")
        self.assertIn("1 of 20 minutes", early["message"])
        moment = "2026-09-14T13:15:00Z"
        self.assertIn("boil_stopped", [t["fault"] for t in self.done("trouble", batch, at=moment)])
        answer = self.said("trouble", batch, "boil_stopped", "--minutes", "2", at=moment)
        self.assertIn("the whole time", answer)
        self.done("trouble", batch, "boil_stopped", "--minutes", "2", "--record", at=moment)
        self.done("batch", "begin", batch, stage, at="2026-09-14T13:16:00Z")
        self.assertEqual(self.refused("batch", "finish", batch, stage, at="2026-09-14T13:30:00Z")["code"],
                         "process_too_short")
        self.assertEqual(self.refused("batch", "clock", batch, stage, "06:00", at="2026-09-14T13:30:00Z")["code"],
                         "before_the_batch")
        self.done("batch", "finish", batch, stage, at="2026-09-14T13:36:00Z")
        self.assertIn("The boil stopped", self.said("history", at="2026-09-14T13:36:00Z"))
        self.said("check")

    def test_batches(self):
        """Several batches at once: what is due stands first; a card to print; one is given up and its food waits again."""
        self.bring_in("40 lb plums, ripe, on the counter")
        self.bring_in("20 lb apples, firm, on the counter")
        self.assertIn("No batch is open", self.said("batch", "list"))
        plums = self.done("batch", "start", "plum/canned_puree", "plums")["id"]
        apples = self.done("batch", "start", "apple/dried", "apples")["id"]
        first = self.done("batch", "show", apples)["steps"][0]["stage"]
        self.done("batch", "begin", apples, first)
        self.done("batch", "timer", apples, "Turn the trays", "30")
        later = "2026-09-14T12:40:00Z"
        self.assertEqual([b["id"] for b in self.done("batch", "list", at=later)], [apples, plums])
        seen = self.said("batch", "list", at=later)
        self.assertIn("TIME IS UP, 10 min ago", seen)
        self.assertIn("Underway: ", seen)
        self.assertIn("Next: ", seen)

        card = self.said("batch", "card", plums)
        view = self.done("batch", "card", plums)
        processes = [s for s in view["steps"] if s["shows_process"]]
        self.assertGreater(len(processes), 1, "more than one load")
        self.assertEqual(card.count("processed as published"), len(processes))
        joined = " ".join(card.replace("|", " ").split())
        for part in ("source", "edition", "altitude_band", "time"):
            self.assertEqual(joined.count(" ".join(view["process"][part].split())) >= len(processes), True, part)
        for step in view["steps"]:
            self.assertIn(" ".join(step["title"].split()), joined)
            self.assertIn(" ".join(step["looks_right"].split()), joined)
            for one in step["gather"]:
                self.assertIn("[ ] " + " ".join(one.split()), joined)
        self.assertIn(" ".join(view["defer_to"].split()), joined)
        self.assertEqual(card.count("Began ____"), len(view["steps"]))
        self.assertLessEqual(max(len(line) for line in card.splitlines()), 80)

        self.assertNotEqual(self.run_it("batch", "abandon", apples).returncode, 0, "why is asked for")
        self.done("batch", "abandon", apples, "--why", "the dryer broke", "--sound", at=later)
        self.assertEqual([b["id"] for b in self.done("batch", "list", at=later)], [plums])
        self.assertEqual(self.done("batch", "show", apples, at=later)["state"], "abandoned")
        apples_wait = [s["amount"] for s in self.today(at=later)["strips"] if s["crop"] == "apple"]
        self.assertEqual(apples_wait, ["20 lb"])
        self.assertEqual(self.refused("batch", "abandon", apples, "--why", "again", at=later)["code"], "batch_over")
        self.said("check", at=later)

    def test_timers(self):
        """Many timers, named; one that is over is plain, and each is stopped by its name."""
        self.assertIn("No timer is set", self.said("timers"))
        self.done("timer", "Leaflet's time", "12", "--note", "by the leaflet")
        self.done("timer", "Soak", "5")
        again = self.done("timer", "Soak", "50")["id"]
        later = "2026-09-14T12:07:00Z"
        said = self.said("timers", at=later)
        self.assertRegex(said, r"Soak: TIME IS UP, 2 min ago")
        self.assertRegex(said, r"Leaflet's time: 5 min left\s+\(by the leaflet\)")
        self.assertEqual([t["name"] for t in self.done("timers", at=later)], ["Soak", "Leaflet's time", "Soak"])
        self.assertEqual(self.refused("timer", "stop", "soak", at=later)["code"], "not_unique")
        self.done("timer", "stop", again[:8], at=later)
        self.done("timer", "stop", "soak", at=later)
        self.assertEqual([t["name"] for t in self.done("timers", at=later)], ["Leaflet's time"])
        self.assertEqual(self.refused("timer", "stop", "soak", at=later)["code"], "no_such_timer")
        self.assertEqual(self.refused("timer", "Soak")["code"], "wrong_use")

    def served(self):
        """The program as it serves the pages, and where."""
        program = subprocess.Popen([os.environ["STILLROOM_BINARY"], "--household", self.file, "--at", self.now, "serve",
                                    "--port", str(free_port())], stdout=subprocess.PIPE, text=True)
        self.addCleanup(program.stdout.close)
        self.addCleanup(program.wait)
        self.addCleanup(program.kill)
        return program, program.stdout.readline().split()[-1] + "api/v1"

    @staticmethod
    def asked(address, entries=None):
        body = None if entries is None else json.dumps(entries).encode()
        request = urllib.request.Request(address, data=body, headers={"Content-Type": "application/json"})
        with urllib.request.urlopen(request, timeout=120) as reply:
            return json.load(reply)

    def test_restart(self):
        """The program is killed in the middle of a timer: started again, the timer is there and due at the same moment."""
        program, address = self.served()
        timer = {"timer": "7" * 32, "name": "Process", "due": "2026-09-14T12:25:00Z"}
        answer = self.asked(address + "/entries", [{"v": 1, "id": "6" * 32, "happened": self.now, "live": True,
                                                    "kind": "timer_set", "what": timer}])
        self.assertTrue(answer[0]["stored"], answer)
        program.kill()
        self.assertNotEqual(program.wait(), 0)
        program, address = self.served()
        seen = self.asked(address + "/day")["timers"]
        self.assertEqual([(t["id"], t["name"], t["due"]) for t in seen], [("7" * 32, "Process", timer["due"])])
        self.assertLessEqual(seen[0]["seconds_left"], 25 * 60)
        self.assertEqual([t["due"] for t in self.done("timers")], [timer["due"]])
        self.assertIn("adds up", self.said("check"))

    def test_ahead(self):
        """Rehearsal, what-if and why, the same again for the same seed."""
        for line in LOTS[:3]:
            self.bring_in(line)
        seen = self.done("rehearse", "--seasons", "10")
        self.assertEqual((seen["seasons"], len(seen["lots"])), (10, 3))
        self.assertGreaterEqual(seen["at_most"], seen["planned"])
        self.assertTrue(all(0 <= lot["saved"] <= 1 for lot in seen["lots"]))
        again = self.done("rehearse", "--seasons", "10")
        self.assertEqual(seen["value"], again["value"])
        lost = self.done("what-if", "--lost-day", "tomorrow")
        self.assertIn("without tomorrow", lost["sentence"].lower())
        self.assertLessEqual(lost["gain"], 3 * lost["noise"] + 5)
        self.assertEqual(self.refused("what-if", "--hour", "Idda")["instead"], ["Ida"])
        self.assertIsInstance(self.done("what-if", "--next"), list)
        why = self.done("why", "plums")
        self.assertEqual([w["days"] for w in why["waiting"]], [1, 2, 3])

    def test_recipes(self):
        """A tested recipe for what there is, at the household's altitude; what is not published is refused."""
        salsa = self.done("recipe", "salsa_chile", "--amount", "12.5 lb")
        self.assertEqual({line["item"]: line["said"] for line in salsa["lines"]},
                         {"tomatoes": "12½ lb", "chile peppers": "5 lb", "onions": "2½ lb", "5% vinegar": "2½ cups"})
        self.assertTrue(all(c["altitude_over_ft"] == 1000 for c in salsa["process"]["choices"]))
        self.assertIn("2,000 ft", self.done("recipe", "jelly_apple")["gel"]["said"])
        self.assertEqual(self.refused("recipe", "jelly_apple", "--amount", "14 cups", "--one-pot")["code"], "not_doubled")
        self.assertEqual(self.refused("recipe", "salsa_chile", "--change", "less vinegar")["code"], "change_not_allowed")
        self.assertGreater(len(self.done("recipe", "--list")["recipes"]), 50)
        self.assertIn("salsa_chile", self.said("recipe", "tomatoes"))
        self.assertEqual(self.done("recipe", "--brine", "5", "--amount", "2 L")["salt_g"], 105)
        leaflet = self.done("recipe", "jelly_grape_low_methoxyl")["process"]
        self.assertEqual(leaflet["code"], "makers_leaflet")
        self.done("timer", "Grape jelly", "12", "--note", "the pectin maker's leaflet")
        self.assertEqual(self.today()["timers"][0]["note"], "the pectin maker's leaflet")

    def test_refused(self):
        """What cannot be is said, with what to do instead."""
        self.assertEqual(self.refused("bring-in", "3 bu perrs, firm")["code"], "unknown_crop")
        self.refused("bring-in", "-2 lb pears, firm")
        self.assertEqual(self.refused("process", "pumpkin butter", "--altitude", "500 ft")["ok"], False)
        self.assertIn("pear", " ".join(self.refused("bring-in", "3 bu perrs, firm")["instead"]))


if __name__ == "__main__":
    unittest.main()
