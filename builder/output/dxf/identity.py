"""A block's identity, kept three times: its name, an invisible constant attribute, registered extended data.

Some editors drop extended data, some drop attributes, some rename blocks: any of the three recognises a part.
"""

from builder.block.block import Attribute, Block

APPID = "BLOCKWRIGHT"
TAG = "LIBREV"


def carries_identity(attribute: Attribute) -> bool:
    """Tell whether an attribute is the one that holds the fingerprint and the extended data."""
    return attribute.tag == TAG


def identity_of(block: Block) -> tuple[str, str, str]:
    """Return name, family and fingerprint; ValueError where the block's own attribute says otherwise."""
    held = [a.text for a in block.attributes if carries_identity(a) and not (a.editable or a.visible)]
    if held != [block.fingerprint]:
        raise ValueError(f"{block.name}: needs one invisible constant {TAG} that holds its fingerprint")
    return block.name, block.family, block.fingerprint
