"""Tests keep no copies of catalogs outside their own folders."""

import os

os.environ["RIGSET_CACHE"] = "off"
