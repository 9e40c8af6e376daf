"""Compiles the shipped rules into the wheel, as ``python -m checker.rulebook.keep`` does."""

import os
import subprocess
import sys

from setuptools import setup
from setuptools.command.build_py import build_py


class KeepRules(build_py):
    """Builds the package, then compiles its rules by the built program itself."""

    def run(self) -> None:
        super().run()
        if self.editable_mode:
            return  # the first check does it, or the Makefile
        subprocess.run(
            [sys.executable, "-m", "checker.rulebook.keep"],
            cwd=self.build_lib,
            env={
                **os.environ,
                "PYTHONPATH": os.path.abspath(self.build_lib),
                "PYTHONDONTWRITEBYTECODE": "1",
            },
            check=True,
        )


setup(cmdclass={"build_py": KeepRules})
