"""Addresses of class lists."""

from __future__ import annotations

from django.urls import path

from benchmates.web.people import views

app_name = "people"
urlpatterns = [
    path("", views.door, name="door"),
    path("names/", views.preview, name="preview"),
    path("names/keep/", views.keep, name="keep"),
    path("class/<int:pk>/", views.class_sheet, name="class"),
    path("class/<int:pk>/describe/", views.describe, name="describe"),
    path("class/<int:pk>/record/", views.record_fields, name="record"),
    path("class/<int:pk>/join/", views.join, name="join"),
    path("class/<int:pk>/leave/", views.leave, name="leave"),
    path("class/<int:pk>/must/", views.must_add, name="must-add"),
    path("class/<int:pk>/must/<int:must>/away/", views.must_remove, name="must-remove"),
    path("class/<int:pk>/wishes/", views.wishes, name="wishes"),
    path("undo/<int:change>/", views.take_back, name="undo"),
]
