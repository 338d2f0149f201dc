"""The paper engine: text in, PDF out, sealed from network and files; photos; stored files.

`sealed_child` alone imports WeasyPrint, in a process of its own with limits of time and memory.

Papers are named by their hash and stored once, for two renders are not byte-equal.

Photos keep nothing but pixels. A photo is decoded, turned upright, made smaller, encoded anew and stored by its hash. A
photo that is taken down keeps its file, since it may stand in an issued paper; papers receive the bytes beside their
text.

Source Sans is the one family for pages and papers, from an installed package; its figures are equally wide.
"""
