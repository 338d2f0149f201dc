"""The ground of all cores: units, money, workdays, plain text, and the reader of documents.

One document, one path. A job file, the API's JSON, the wall form and an import all become the same document and pass
the same readers (`document_reader`), so an error always names the path and what would be right.
"""
