"""Prints what a reader of Word files finds in each file, as JSON."""
import json
import sys

import docx

out = {}
for name in sys.argv[1:]:
    d = docx.Document(name)
    p = d.core_properties
    out[name] = {
        "title": p.title,
        "author": p.author,
        "headings": [[x.style.name, x.text] for x in d.paragraphs if x.style.name.startswith("Heading")],
        "text": [x.text for x in d.paragraphs],
        "tables": [[[c.text for c in r.cells] for r in t.rows] for t in d.tables],
        "contents": "TOC \\" in d.element.xml,
        "pictures": len(d.inline_shapes),
    }
print(json.dumps(out))
