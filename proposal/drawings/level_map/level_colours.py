"""The colours of level maps: lightness alone tells them apart, for readers with any colour vision.

The map of colours is called cividis (J. R. Nuñez, C. R. Anderton, R. S. Renslow, PLOS ONE 13(7), 2018).
"""

DARKEST = 0.42
"""Share of the map from which on dark print shows on its colours."""
_STEPS, _FIRST, _SIGNS = 256, 107, 6
_COLOURS = (
    "6b6d726c6d726c6e726d6f726e6f736f7073707173717274727274727374737475747475757575767676777776777777"
    "7878777979777a7a787b7a787c7b787d7c787e7c787e7d787f7e78807f78817f78828079838179848279858279868379"
    "8784788885788985788a86788b87788c88788d88788e89788f8a78908b78918b78928c78928d78938e78948e77958f77"
    "9690779791779892779992779a93769b94769c95769d95769e96769f9775a09875a19975a29975a39a74a49b74a59c74"
    "a69c74a79d73a89e73a99f73aaa073aba072aca172ada272aea371afa471b0a571b1a570b3a670b4a76fb5a86fb6a96f"
    "b7a96eb8aa6eb9ab6dbaac6dbbad6dbcae6cbdae6cbeaf6bbfb06bc0b16ac1b26ac2b369c3b369c4b468c5b568c6b667"
    "c7b767c8b866c9b965cbb965ccba64cdbb63cebc63cfbd62d0be62d1bf61d2c060d3c05fd4c15fd5c25ed6c35dd7c45c"
    "d9c55cdac65bdbc75adcc859ddc858dec958dfca57e0cb56e1cc55e2cd54e4ce53e5cf52e6d051e7d150e8d24fe9d34e"
    "ead34cebd44bedd54aeed649efd748f0d846f1d945f2da44f3db42f5dc41f6dd3ff7de3ef8df3cf9e03afbe138fce236"
    "fde334fee434fee535fee636fee838"
)
"""The colours from `_FIRST` of `_STEPS` on, six signs each."""


def colour_at(share: float) -> str:
    """Return a colour of the map: dark at `DARKEST`, light at 1.

    share: of the map, no less than `DARKEST`.
    """
    begin = (min(int(share * _STEPS), _STEPS - 1) - _FIRST) * _SIGNS
    return f"#{_COLOURS[begin : begin + _SIGNS]}"
