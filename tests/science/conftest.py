"""Random examples are drawn the same way every time, and no test looks at the clock."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")
