"""Addresses of this room, sorted."""

from django.urls import path

from .views import calculations, pressure_tests, record, stay_maps, survey_photo, surveys

urlpatterns = [
    path("boiler-parts/<int:pk>/stay-map", stay_maps.begin_stay_map, name="begin_stay_map"),
    path("boiler-parts/<int:pk>/survey", surveys.begin_survey, name="begin_survey"),
    path("boiler-records/<int:pk>/", record.boiler_record, name="boiler_record"),
    path("boiler-records/<int:pk>/absent", calculations.leave_out, name="leave_out"),
    path("boiler-records/<int:pk>/acceptance", record.file_acceptance, name="file_acceptance"),
    path("boiler-records/<int:pk>/again", record.supersede_record, name="supersede_record"),
    path("boiler-records/<int:pk>/calculation", calculations.calculation, name="calculation"),
    path("boiler-records/<int:pk>/check", record.check_boiler_record, name="check_boiler_record"),
    path("boiler-records/<int:pk>/csv", surveys.survey_csv, name="survey_csv"),
    path("boiler-records/<int:pk>/figure", calculations.add_figure, name="add_figure"),
    path("boiler-records/<int:pk>/formula", calculations.add_formula, name="add_formula"),
    path("boiler-records/<int:pk>/grid", stay_maps.stay_map_head, name="stay_map_head"),
    path("boiler-records/<int:pk>/head", surveys.survey_head, name="survey_head"),
    path("boiler-records/<int:pk>/paper.pdf", record.boiler_record_pdf, name="boiler_record_pdf"),
    path("boiler-records/<int:pk>/photo", survey_photo.survey_photo, name="survey_photo"),
    path("boiler-records/<int:pk>/readings", surveys.survey_readings, name="survey_readings"),
    path("boiler-records/<int:pk>/sign", record.sign_boiler_record, name="sign_boiler_record"),
    path("boiler-records/<int:pk>/stays", stay_maps.stay_map_stays, name="stay_map_stays"),
    path("boiler-records/<int:pk>/take-out", calculations.take_out, name="take_out"),
    path("boiler-records/<int:pk>/test", pressure_tests.boiler_test, name="boiler_test"),
    path("boiler-records/<int:pk>/throw-away", record.throw_away_record, name="throw_away_record"),
    path("boiler-records/<int:pk>/what-if", calculations.add_what_if, name="add_what_if"),
    path("boilers/<int:pk>/calculation", calculations.begin_calculation, name="begin_calculation"),
    path("boilers/<int:pk>/file.pdf", record.boiler_file_pdf, name="boiler_file_pdf"),
    path("boilers/<int:pk>/test", pressure_tests.begin_test, name="begin_test"),
]
