"""A printed bundle sheet as a poor photograph: seen at 150 dots an inch, turned by 5 degrees, in uneven light, blurred."""

from __future__ import annotations

import io

from PIL import Image, ImageChops, ImageFilter

from handouts.paper.raster import page_png

DOTS, DEGREES, BLUR = 150, 5, 1.0
"""Dots an inch; degrees; standard deviation of the blur in dots, 0.17 mm."""
LIGHT, SHADE = 235, 120
"""White paper at the bright end and at the dark end, of 255."""


def photograph(pdf: bytes, dots: int = DOTS, blur: float = BLUR) -> Image.Image:
    """The first page on a grey table."""
    with Image.open(io.BytesIO(page_png(pdf, 0, dots))) as page:
        grey = page.convert("L")
    table = Image.new("L", (grey.width + dots, grey.height + dots), 200)
    table.paste(grey, (dots // 2, dots // 2))
    turned = table.rotate(DEGREES, Image.Resampling.BICUBIC, expand=True, fillcolor=200)
    slope = Image.linear_gradient("L").rotate(30, Image.Resampling.BILINEAR).crop((48, 48, 208, 208)).resize(turned.size, Image.Resampling.BILINEAR)
    low, high = slope.getextrema()
    light = slope.point([round(SHADE + (LIGHT - SHADE) * min(1, max(0, (value - low) / (high - low)))) for value in range(256)])
    return ImageChops.multiply(turned, light).filter(ImageFilter.GaussianBlur(blur))
