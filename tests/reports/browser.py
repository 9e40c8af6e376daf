"""A small driver for headless Chromium: its debugging protocol over two pipes, nothing else."""

from __future__ import annotations

import json
import os
import select
import shutil
import subprocess
import tempfile
import time
from pathlib import Path
from types import TracebackType
from typing import Any

PROGRAM = (
    shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
)


class Page:
    """One page.  ``complaints`` collects console errors, exceptions and refused loads;
    ``requested`` every address that the page asked for."""

    def __init__(self) -> None:
        assert PROGRAM
        self.folder = tempfile.mkdtemp()
        to_read, self._write = os.pipe()
        self._read, to_write = os.pipe()

        def wire() -> None:  # the protocol's pipes are descriptors 3 and 4
            os.dup2(to_read, 30)
            os.dup2(to_write, 31)
            os.dup2(30, 3)
            os.dup2(31, 4)

        self._process = subprocess.Popen(
            [
                PROGRAM, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run",
                "--disable-dev-shm-usage", "--remote-debugging-pipe",
                f"--user-data-dir={self.folder}", "about:blank",
            ],
            preexec_fn=wire, close_fds=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        os.close(to_read)
        os.close(to_write)
        self._buffer = b""
        self._count = 0
        self._channel = ""
        self.complaints: list[str] = []
        self.requested: list[str] = []
        self._loaded = 0
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        attached = self.call("Target.attachToTarget", targetId=target, flatten=True)
        self._channel = attached["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.call(f"{domain}.enable")

    def __enter__(self) -> Page:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self._process.terminate()
        self._process.wait(20)
        os.close(self._write)
        os.close(self._read)
        shutil.rmtree(self.folder, ignore_errors=True)

    # -- the protocol ----------------------------------------------------------------------

    def call(self, method: str, **parameters: Any) -> Any:
        """Call a method and wait for what it gives."""
        self._count += 1
        message: dict[str, Any] = {"id": self._count, "method": method, "params": parameters}
        if self._channel:
            message["sessionId"] = self._channel
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self._write, data) :]
        while True:
            got = self._next()
            if got.get("id") == self._count:
                assert "error" not in got, got["error"]
                return got["result"]

    def _next(self, wait: float = 1200) -> dict[str, Any]:
        until = time.monotonic() + wait
        while b"\0" not in self._buffer:
            ready, _, _ = select.select([self._read], [], [], max(until - time.monotonic(), 0))
            assert ready, "the browser does not answer"
            self._buffer += os.read(self._read, 1 << 20)
        line, _, self._buffer = self._buffer.partition(b"\0")
        got: dict[str, Any] = json.loads(line)
        self._note(got)
        return got

    def _note(self, got: dict[str, Any]) -> None:
        method, told = got.get("method"), got.get("params", {})
        if method == "Page.loadEventFired":
            self._loaded += 1
        elif method == "Page.javascriptDialogOpening":
            self.complaints.append(f"a dialog: {told['message']}")
        elif method == "Network.requestWillBeSent":
            self.requested.append(told["request"]["url"])
        elif method == "Runtime.exceptionThrown":
            self.complaints.append(str(told["exceptionDetails"]))
        elif method == "Runtime.consoleAPICalled" and told["type"] in (
            "error",
            "warning",
            "assert",
        ):
            self.complaints.append(str(told["args"]))
        elif method == "Log.entryAdded" and told["entry"]["level"] in ("error", "warning"):
            self.complaints.append(told["entry"]["text"])

    # -- what tests do ---------------------------------------------------------------------

    def open(self, path: Path) -> None:
        """Open a file and wait until it is loaded."""
        before = self._loaded
        self.call("Page.navigate", url=path.as_uri())
        while self._loaded == before:
            self._next()

    def run(self, script: str) -> Any:
        """The value of an expression in the page."""
        done = self.call(
            "Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True
        )
        assert "exceptionDetails" not in done, done["exceptionDetails"]
        return done["result"].get("value")

    def key(self, name: str, code: int, text: str = "") -> None:
        """Press a key."""
        for kind in ("keyDown", "keyUp"):
            more = {"text": text} if text and kind == "keyDown" else {}
            self.call(
                "Input.dispatchKeyEvent", type=kind, key=name, code=name,
                windowsVirtualKeyCode=code, **more,
            )  # fmt: skip

    def click(self, selector: str) -> None:
        """Click in the middle of an element with the mouse."""
        spot = self.run(
            f"(async () => {{ const e = document.querySelector({json.dumps(selector)});"
            "for (let i = 0; i < 3; i++) { e.scrollIntoView({block: 'center'});"
            "await new Promise(done => setTimeout(done, 30)); }"  # what comes into view is laid out
            "const b = e.getClientRects()[0];"
            "return [b.x + b.width / 2, b.y + b.height / 2]; })()"
        )
        for kind in ("mousePressed", "mouseReleased"):
            self.call(
                "Input.dispatchMouseEvent", type=kind, x=spot[0], y=spot[1], button="left",
                clickCount=1,
            )  # fmt: skip
