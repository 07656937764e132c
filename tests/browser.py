"""A real browser, if this machine has one, spoken to through a pipe by its own protocol; it has no network."""

from __future__ import annotations

import base64
import json
import os
import select
import shutil
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
OPTIONS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-extensions", "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND", "--proxy-server=127.0.0.1:9", "--remote-debugging-pipe",
)  # fmt: skip
PATIENCE_S = 120.0


def found() -> str | None:
    """Where a browser is; None where there is none."""
    return next((path for name in NAMES if (path := shutil.which(name))), None)


class Browser:
    """One tab of it."""

    def __init__(self, process: subprocess.Popen[bytes], send: int, receive: int) -> None:
        self.process, self._send, self._receive = process, send, receive
        self._last, self._rest, self.session = 0, b"", ""
        self.events: list[dict[str, Any]] = []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]

    def call(self, method: str, **params: Any) -> dict[str, Any]:
        """Ask for something and wait for its answer; what is told meanwhile goes to `events`."""
        self._last += 1
        message: dict[str, Any] = {"id": self._last, "method": method, "params": params}
        if self.session:
            message["sessionId"] = self.session
        os.write(self._send, json.dumps(message).encode() + b"\0")
        while True:
            heard = self._hear()
            if heard.get("id") == self._last:
                assert "error" not in heard, heard["error"]
                answer: dict[str, Any] = heard["result"]
                return answer
            self.events.append(heard)

    def _hear(self) -> dict[str, Any]:
        end = time.monotonic() + PATIENCE_S
        while b"\0" not in self._rest:
            ready, _, _ = select.select([self._receive], [], [], max(0.0, end - time.monotonic()))
            assert ready, "the browser says nothing"
            more = os.read(self._receive, 1 << 20)
            assert more, "the browser has ended"
            self._rest += more
        one, _, self._rest = self._rest.partition(b"\0")
        heard: dict[str, Any] = json.loads(one)
        return heard

    def open(self, page: Path, wide: int, high: int = 900, scheme: str = "light") -> None:
        """Load a page in a window so wide [px], and wait until it is there."""
        for domain in ("Page", "Network", "Log", "Runtime"):
            self.call(f"{domain}.enable")
        self.call("Emulation.setDeviceMetricsOverride", width=wide, height=high, deviceScaleFactor=1, mobile=wide < 600)
        self.call("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": scheme}])
        self.events.clear()
        self.call("Page.navigate", url=page.resolve().as_uri())
        while not any(event.get("method") == "Page.loadEventFired" for event in self.events):
            self.events.append(self._hear())
        self.value("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(1))))")

    def value(self, script: str) -> Any:
        """What a line of script comes to in the page."""
        asked = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in asked, asked
        return asked["result"].get("value")

    def picture(self) -> bytes:
        """The whole page as PNG."""
        return base64.b64decode(self.call("Page.captureScreenshot", captureBeyondViewport=True)["data"])

    def printed(self, wide_in: float, high_in: float) -> bytes:
        """The page as PDF, on paper of a size [in]."""
        asked = self.call("Page.printToPDF", paperWidth=wide_in, paperHeight=high_in, preferCSSPageSize=False)
        return base64.b64decode(asked["data"])


@contextmanager
def browser(home: Path) -> Iterator[Browser]:
    """A browser with its own profile in a folder, ended at the end."""
    path = found()
    assert path is not None
    (from_us, send), (receive, to_us) = os.pipe(), os.pipe()

    def place() -> None:
        """The browser listens at 3 and answers at 4."""
        listen, answer = os.dup(from_us), os.dup(to_us)
        os.dup2(listen, 3)
        os.dup2(answer, 4)

    process = subprocess.Popen(
        [path, *OPTIONS, f"--user-data-dir={home}", "about:blank"],
        preexec_fn=place,
        close_fds=False,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(from_us)
    os.close(to_us)
    try:
        yield Browser(process, send, receive)
    finally:
        process.terminate()
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            process.kill()
        os.close(send)
        os.close(receive)
