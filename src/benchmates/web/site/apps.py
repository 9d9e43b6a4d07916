from __future__ import annotations

from django.apps import AppConfig


class SiteConfig(AppConfig):
    name = "benchmates.web.site"
    label = "site"
