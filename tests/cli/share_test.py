"""Devices of the home network, from the command line. STILLROOM_BINARY names the program."""

import json
import os
import pathlib
import ssl
import subprocess
import unittest
import urllib.error
import urllib.request

from household import Household, free_port

PASSPHRASE = "eleven quiet lanterns"


class Share(Household):
    def served(self):
        """The program shares the household, on a port of its own."""
        port = free_port()
        self.home = f"https://127.0.0.1:{port}/api/v1"
        passphrase = pathlib.Path(self.file).with_name("passphrase.txt")
        passphrase.write_text(PASSPHRASE + "\n", encoding="utf-8")
        serve = ["serve", "--port", str(free_port()), "--share", "--passphrase-file", str(passphrase),
                 "--share-port", str(port), "--plain-port", "0"]
        program = subprocess.Popen([os.environ["STILLROOM_BINARY"], "--household", self.file, *serve],
                                   stdout=subprocess.PIPE, text=True)
        self.addCleanup(program.stdout.close)
        self.addCleanup(program.wait)
        self.addCleanup(program.kill)
        self.assertIn("localhost", program.stdout.readline())
        self.trust = ssl.create_default_context(cafile=self.file + ".share/ca.crt")

    def answered(self, path, body=None, cookie=""):
        """Status, JSON and the cookie that was set, as a device of the home network has them."""
        data = None if body is None else json.dumps(body).encode()
        headers = {"Content-Type": "application/json", "Cookie": cookie}
        request = urllib.request.Request(self.home + path, data=data, headers=headers)
        try:
            with urllib.request.urlopen(request, timeout=120, context=self.trust) as reply:
                return reply.status, json.load(reply), (reply.headers["Set-Cookie"] or "").split(";")[0]
        except urllib.error.HTTPError as no:
            with no:
                return no.code, json.load(no), ""

    def asks_in(self, name, passphrase):
        return self.answered("/pairing", {"name": name, "passphrase": passphrase, "code": ""})

    def paired(self, name, passphrase=PASSPHRASE):
        status, answer, cookie = self.asks_in(name, passphrase)
        self.assertEqual(status, 200, answer)
        return answer["id"], cookie

    def test_devices(self):
        """Devices are listed without what proves who they are; one that is withdrawn is out at its next request."""
        self.assertEqual(self.refused("devices")["code"], "not_shared")
        self.served()
        self.assertIn("No device is paired", self.said("devices"))
        phone, of_phone = self.paired("Kitchen phone")
        tablet, of_tablet = self.paired("Ida's tablet")
        self.assertEqual([(d["id"], d["name"], d["secure"]) for d in self.done("devices")],
                         [(phone, "Kitchen phone", True), (tablet, "Ida's tablet", True)])
        seen = self.said("devices") + json.dumps(self.done("devices"))
        for cookie in (of_phone, of_tablet):
            self.assertNotIn(cookie.split("=")[1], seen)
        self.assertRegex(seen, r"Kitchen phone\n +paired \S+, last seen ")
        self.assertEqual(self.answered("/day", cookie=of_phone)[0], 200)

        self.assertEqual(self.refused("devices", "withdraw", "Cellar phone")["code"], "unknown_device")
        self.assertEqual(self.done("devices", "withdraw", "Kitchen phone")["id"], phone)
        status, answer, _ = self.answered("/day", cookie=of_phone)
        self.assertEqual((status, answer["code"]), (401, "not_paired"))
        self.assertEqual(self.answered("/day", cookie=of_tablet)[0], 200)
        self.assertEqual([d["id"] for d in self.done("devices")], [tablet])
        self.assertEqual(self.refused("devices", "withdraw", "Kitchen phone")["code"], "unknown_device")

        namesake, of_namesake = self.paired("Ida's tablet")
        self.assertEqual(self.refused("devices", "withdraw", "Ida's tablet")["code"], "bad_name")
        self.done("devices", "withdraw", namesake)
        self.assertEqual(self.answered("/day", cookie=of_namesake)[0], 401)
        self.assertEqual(self.answered("/day", cookie=of_tablet)[0], 200)

    def test_passphrase(self):
        """A passphrase that is easily guessed is refused; another one lets devices in, and those that are in stay."""
        self.served()
        _, cookie = self.paired("Kitchen phone")
        short = pathlib.Path(self.file).with_name("short.txt")
        short.write_text("jam\n", encoding="utf-8")
        self.refused("devices", "passphrase", "--passphrase-file", str(short))
        self.refused("devices", "passphrase", "--passphrase-file", str(short) + " is not there")
        self.paired("Cellar phone")
        other = pathlib.Path(self.file).with_name("other.txt")
        kettles = "seven slow copper kettles"
        other.write_text(kettles + "\n", encoding="utf-8")
        self.said("devices", "passphrase", "--passphrase-file", str(other))
        self.assertEqual(self.answered("/day", cookie=cookie)[0], 200)
        self.paired("Tablet", kettles)
        self.assertNotEqual(self.asks_in("Stranger", PASSPHRASE)[0], 200)


if __name__ == "__main__":
    unittest.main()
