from __future__ import annotations

from django.apps import AppConfig


class LessonsConfig(AppConfig):
    name = "benchmates.web.lessons"
    label = "lessons"
