"""Text of any language as such: inline Markdown, and the contrast of colours that it is set in."""
