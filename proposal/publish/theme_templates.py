"""The theme's templates, compiled once for all sites of this process.

What is compiled is code: it is never kept on the disk, where somebody else could have put other code.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from jinja2.bccache import Bucket, BytecodeCache


class _Compiled(BytecodeCache):
    """Where the library of templates looks for what was compiled before."""

    def __init__(self) -> None:
        self._codes: dict[tuple[str, str], Any] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        """Give a template the code that was made of the same source; the name is the library's."""
        bucket.code = self._codes.get((bucket.key, bucket.checksum))

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep the code of a template; the name is the library's."""
        self._codes[bucket.key, bucket.checksum] = bucket.code


_COMPILED = _Compiled()


@contextmanager
def templates_compiled_once() -> Iterator[None]:
    """Let the themes of the site builder share what is compiled of their templates, until the block ends."""
    from mkdocs.theme import Theme

    theme: Any = Theme
    get_env = theme.get_env

    def sharing(self: Any) -> Any:
        environment = get_env(self)
        environment.bytecode_cache = environment.bytecode_cache or _COMPILED
        return environment

    theme.get_env = sharing
    try:
        yield
    finally:
        theme.get_env = get_env
