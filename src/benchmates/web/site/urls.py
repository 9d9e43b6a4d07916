"""Every address, in lesson order."""

from __future__ import annotations

from django.urls import include, path

from benchmates.web.site import views

urlpatterns = [
    path("open/<str:key>/", views.open_session, name="open"),
    path("font/atkinson-hyperlegible/<int:weight>.woff2", views.typeface, name="typeface"),
    path("close/", views.close_session, name="close"),
    path("", include("benchmates.web.people.urls")),
    path("", include("benchmates.web.lessons.urls")),
    path("", include("benchmates.web.runs.urls")),
]

handler404 = "benchmates.web.site.views.not_there"
handler403 = "benchmates.web.site.views.not_allowed"
handler400 = "benchmates.web.site.views.not_understood"
handler500 = "benchmates.web.site.views.our_fault"
