"""The sheet that people hand over: one self-contained page about a rig, without any script, and pages for other answers.

    bundle.py      what the page is made of, and the same as JSON
    figures.py     a figure with its place in that JSON
    subjects.py    which rule and which slot belongs to which part of the page
    balances.py    need against supply, subject by subject
    reasons.py     why each choice, in a few words
    shares.py      where the money and where the weight goes
    charts.py      bars, steps, front and heat map as SVG
    curves.py      requirement curves
    alternatives.py the next best rigs
    fronts.py      the front of price and weight, in the page and as a page of its own
    mending.py     what would make a rig possible
    gather.py      all answers of a page, asked one after the other
    overview.py    the top of the page
    views.py       list, bars, what binds, money
    working.py     worksheets of all rules
    page.py        the page of a picked rig, or of a conflict
    studies.py     the page of a what-if study
    templates/     the pages themselves, with their style

Jinja is loaded when a page is made, not before.
"""
