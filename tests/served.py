"""What serving a garden in a test gives."""

import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass
class Served:
    """A garden that is being served."""

    notebook: Path
    address: str
    process: subprocess.Popen[str]

    def kill(self) -> None:
        """End the server at once, as a power cut would."""
        self.process.kill()
        self.process.wait()


Serve = Callable[[Path], Served]
