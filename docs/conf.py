"""How the manual is built: Markdown, furo, the reference read from the docstrings."""

from baskwell import __version__

project = "baskwell"
author = "the baskwell contributors"
release = version = __version__
extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.apidoc", "sphinx.ext.mathjax"]
source_suffix = {".md": "markdown", ".rst": "restructuredtext"}
exclude_patterns = ["_build"]

html_theme = "furo"
html_title = "baskwell"
html_static_path: list[str] = []
html_show_sphinx = False
html_theme_options = {
    "light_css_variables": {
        "color-brand-primary": "#0d4b4a",
        "color-brand-content": "#0d4b4a",
        "color-background-primary": "#fffdf7",
        "color-background-secondary": "#f8f4ea",
        "color-foreground-primary": "#1d1b18",
    },
    "dark_css_variables": {"color-brand-primary": "#8ed2cc", "color-brand-content": "#8ed2cc"},
}

myst_enable_extensions = ["colon_fence", "deflist", "dollarmath"]
myst_heading_anchors = 3

suppress_warnings = [
    "ref.python"
]  # many rows have a field named "type"; which one is meant shows in the signature
autodoc_typehints = "signature"
autodoc_typehints_format = "short"
toc_object_entries = False  # hundreds of functions in every page's navigation would take minutes to write
autodoc_member_order = "bysource"
autodoc_default_options = {"members": True, "show-inheritance": True, "undoc-members": False}
apidoc_modules = [
    {
        "path": "../src/baskwell",
        "destination": "look-up/api",
        "exclude_patterns": ["**/cli/**", "**/evidence/rows/**", "**/evidence/check/**"],
        "separate_modules": False,
        "module_first": True,
        "max_depth": 3,
    }
]
