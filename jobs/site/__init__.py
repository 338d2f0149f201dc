"""The lead's site sheet, on paper and on a phone, the DXF drawing and the full-size templates."""
