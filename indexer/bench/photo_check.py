"""Whether some bytes are a photo that can be kept and printed."""

import io

from PIL import Image

from indexer import limits
from indexer.errors import InputError, TooLarge
from indexer.intake.quiet import quiet

_SUFFIX = {"JPEG": ".jpg", "MPO": ".jpg", "PNG": ".png", "WEBP": ".webp", "TIFF": ".tif"}
_SMALL = (64, 64)  # a JPEG is decoded at an eighth of its size to see that it is whole


def photo_suffix(data: bytes, name: str) -> str:
    """The suffix that a photo is kept under, by its content: ".jpg", ".png", ".webp" or ".tif".

    `name` is only for the message. Raises TooLarge beyond MAX_PHOTO_BYTES or MAX_PHOTO_PIXELS,
    InputError for what is no such picture, or is cut short.
    """
    if len(data) > limits.MAX_PHOTO_BYTES:
        raise TooLarge(
            f"{name} is larger than {limits.MAX_PHOTO_BYTES // 1_000_000} MB.", "Make it smaller."
        )
    try:
        with quiet(), Image.open(io.BytesIO(data), formats=list(_SUFFIX)) as image:
            suffix = _SUFFIX[image.format or ""]
            if image.width * image.height > limits.MAX_PHOTO_PIXELS:
                raise TooLarge(
                    f"{name} has {image.width:,} x {image.height:,} pixels, more than"
                    f" {limits.MAX_PHOTO_PIXELS // 1_000_000} million.",
                    "Make it smaller.",
                )
            if suffix == ".jpg":
                image.draft("L", _SMALL)
                image.load()
            elif suffix == ".tif":
                image.load()
            else:
                image.verify()
    except InputError:
        raise
    except Exception as error:  # Pillow meets damage with errors of every kind
        raise InputError(
            f"{name} is not a photo that can be read, or is cut short.",
            "JPEG, PNG, WebP and TIFF are kept.",
        ) from error
    return suffix
