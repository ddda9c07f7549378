"""ZIP archives that are the same bytes for the same files."""

import io
import zipfile
from collections.abc import Mapping

_TIME = (1980, 1, 1, 0, 0, 0)  # the first that the format can hold
_MODE = 0o100644 << 16
_UNIX = 3


def archive(files: Mapping[str, bytes]) -> bytes:
    """Return a ZIP archive of files, in the order of their names.

    files: content by path within the archive, with forward slashes.
    """
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as packed:
        for name in sorted(files):
            entry = zipfile.ZipInfo(name, _TIME)
            entry.create_system = _UNIX
            entry.external_attr = _MODE
            entry.compress_type = zipfile.ZIP_DEFLATED
            packed.writestr(entry, files[name])
    return content.getvalue()
