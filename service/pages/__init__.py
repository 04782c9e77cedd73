"""Web pages over the same functions as the routes: a form in, one function of `jobs` called, a page out.

Pages do no arithmetic and know no database. A view makes a frozen dataclass of finished strings; its template
places them, with loops, includes, names and messages only. Everything works without a script, except where a
token is wanted: a browser sends one only from a script. The way through it: `site` (which pages there are),
`declaring` and `answering` (how a page is declared and answered), `speaking` (in which language), `joined`
(what `app` hands in), `assets` (styles, scripts, drawings).
"""
