"""Which methods of the site builder may be replaced: those of versions that were tested."""

import hashlib
import inspect
from collections.abc import Mapping
from pathlib import Path
from types import ModuleType
from typing import Any

# SHA-256 of the source of each method and module: mkdocs 1.6.1, mkdocs-material 9.8.2, Markdown 3.11.3.
_TESTED: Mapping[str, str] = {
    "Page.render": ("320529348f7a8af152073d0a3ab02960ccce91f9204716144e51b20931983cc6"),
    "SearchIndex.add_entry_from_context": (
        "4ca78ac4321f7704149f84dac0abc5a26afbd7c43de197ce7f481dcab47edb7b"
    ),
    "SearchIndex.create_entry_for_section": (
        "89d7541516b0a9c485513f1046a4829285c1f5cea49958b2aa32e1dc94ca2ce8"
    ),
    "SearchPlugin.on_page_context": ("33eb62fd1688be4d99a4e7bf8fc51c1be3d37602b63ad5327c9be3abf5dc8d50"),
    "_RawHTMLPreprocessor.run": ("7b48b16dd21c652feb7ca916301ab511921d3145ec818c1efe74d45fb7be0569"),
    "HtmlBlockPreprocessor.run": ("0e55181cf96c0cd6444838f1b60bacc515c98c76623c25f3d3ed0ab0f65467ff"),
    "markdown.htmlparser": ("caf8d97bcf231f9a7bbd8cec8144af0cdc66e73ebaab847d63376f4ddead1e5b"),
    "mkdocs.structure.pages": ("28cc64c2f8b85b9272d49f0f2eb263851f86ed99796f8a593b11c0c7fbd11bf2"),
    "material.plugins.search.plugin": ("cc8a3ac0a8862662d11e87fefcdaa4a42d9ebd70a7943fa921c1c80e2661730b"),
}


def is_as_tested(method: Any) -> bool:
    """Return whether a method is that of a tested version, and has not been replaced already."""
    try:
        source = inspect.getsource(method)
    except (OSError, TypeError):  # it is nowhere to be read
        return False
    return _TESTED.get(method.__qualname__) == hashlib.sha256(source.encode("utf-8")).hexdigest()


def are_as_tested(*modules: ModuleType) -> bool:
    """Say whether modules are those of a version that was tested."""
    return all(_TESTED.get(module.__name__) == _digest(module) for module in modules)


def _digest(module: ModuleType) -> str:
    try:
        return hashlib.sha256(Path(module.__file__ or "").read_bytes()).hexdigest()
    except OSError:  # it is nowhere to be read
        return ""
