"""Addresses of groups: drawing, making, changing, printing, the wall, the end."""

from __future__ import annotations

from django.urls import path

from benchmates.web.runs import views, wall

app_name = "runs"
urlpatterns = [
    path("names/make/", views.keep_and_make, name="keep-and-make"),
    path("class/<int:pk>/groups/", views.plain_groups_for, name="plain-groups"),
    path("class/<int:pk>/sat/", views.sat, name="sat"),
    path("lesson/<int:pk>/", views.plan_sheet, name="plan"),
    path("lesson/<int:pk>/make/", views.make, name="make"),
    path("lesson/<int:pk>/making/<int:job>/", views.making, name="making"),
    path("lesson/<int:pk>/groups/", views.groups_sheet, name="groups"),
    path("lesson/<int:pk>/apart/", views.apart, name="apart"),
    path("lesson/<int:pk>/lead/", views.lead, name="lead"),
    path("lesson/<int:pk>/ended/", views.ended, name="ended"),
    path("lesson/<int:pk>/print/<str:size>/<slug:sheet>.pdf", wall.print_sheet, name="print"),
    path("lesson/<int:pk>/print/<str:size>.zip", wall.print_all, name="print-all"),
    path("lesson/<int:pk>/wall/<int:stage>/", wall.board, name="wall"),
]
