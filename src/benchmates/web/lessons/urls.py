"""Addresses of ways of working and of what stands in a lesson."""

from __future__ import annotations

from django.urls import path

from benchmates.web.lessons import views

app_name = "lessons"
urlpatterns = [
    path("class/<int:pk>/way/", views.finder, name="finder"),
    path("class/<int:pk>/lesson/", views.draw, name="draw"),
    path("ways/", views.catalogue_sheet, name="ways"),
    path("ways/own/", views.keep_own, name="own"),
    path("ways/<slug:key>/", views.way_sheet, name="way"),
    path("ways/<slug:key>/file/", views.way_file, name="way-file"),
    path("lesson/<int:pk>/stage/<int:stage>/", views.write_stage, name="stage"),
    path("lesson/<int:pk>/describe/", views.describe, name="describe"),
    path("lesson/<int:pk>/insist/", views.insist, name="insist"),
]
