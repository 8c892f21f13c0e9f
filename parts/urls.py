"""Addresses of the register, sorted by address."""

from django.urls import path

from .views.act import act
from .views.bulk import bulk
from .views.choose_place import choose_place
from .views.contractions import (
    add_contraction,
    add_density,
    contractions,
    strike_contraction,
    strike_density,
)
from .views.decide import decide_on_piece, decide_on_place
from .views.describe import describe
from .views.evidence import add_evidence
from .views.find import find, find_csv, first_answers
from .views.firms import add_firm, edit_firm, firm, firms, retire_firm
from .views.holds import add_hold, add_holds, ask_release, hold, holds, release_hold
from .views.home import home, locomotives
from .views.import_register import import_list
from .views.labels import labels, labels_picture
from .views.ledger import ledger, ledger_csv, ledger_pdf
from .views.locations import (
    add_location,
    carry,
    edit_location,
    give_tag,
    location,
    locations,
    put_here,
    retire_location,
    use_location_again,
)
from .views.locomotive import locomotive
from .views.money import money
from .views.more import more
from .views.move import keep_here, move
from .views.new_locomotive import make
from .views.next import next_anywhere, next_things
from .views.order import order
from .views.overhauls import overhauls
from .views.papers import paper
from .views.pattern_sums import pattern_sums, pattern_sums_of
from .views.patterns import (
    add_casting,
    add_pattern,
    edit_pattern,
    move_pattern,
    pattern,
    pattern_places,
    pattern_state,
    patterns,
    promise_pattern,
    remove_casting,
    tie_pattern,
)
from .views.photos import location_photos, pattern_photos, photo, photo_page, photos, position_photos
from .views.position import add_position, edit_position, known_empty, position, remove_position
from .views.put_away import done as done_putting_away
from .views.put_away import put as put_into
from .views.put_away import put_away, take_back
from .views.renewals import (
    begin_piece,
    begin_renewal,
    choose_pattern,
    close_renewal,
    give_up_renewal,
    renewal,
    renewals,
)
from .views.repairs import begin_repair, edit_repair, finish_repair, give_up_repair, promise_repair, repair
from .views.replacing import replaces
from .views.routes import add_route, edit_route, retire_route, routes
from .views.saved_filters import drop_filter, keep_filter
from .views.scan import scan
from .views.split import split
from .views.steps import add_step, drop_step, edit_step, fail_step, finish_step, promise_step
from .views.stock import cut, receive_stock, stock, weld_up
from .views.strip import start_on, strip
from .views.structure import add_subassembly, edit_subassembly, remove_subassembly, structure
from .views.subassembly import subassembly
from .views.tag import tag, type_code
from .views.tie import tie_tag

urlpatterns = [
    path("", home, name="home"),
    path("find/", find, name="find"),
    path("find/<int:pk>/delete", drop_filter, name="drop_filter"),
    path("find/csv", find_csv, name="find_csv"),
    path("find/first", first_answers, name="first_answers"),
    path("find/keep", keep_filter, name="keep_filter"),
    path("firms/", firms, name="firms"),
    path("firms/<int:pk>/", firm, name="firm"),
    path("firms/<int:pk>/edit", edit_firm, name="edit_firm"),
    path("firms/<int:pk>/retire", retire_firm, name="retire_firm"),
    path("firms/add", add_firm, name="add_firm"),
    path("holds/<int:pk>/", hold, name="hold"),
    path("holds/<int:pk>/ask", ask_release, name="ask_release"),
    path("holds/<int:pk>/release", release_hold, name="release_hold"),
    path("l/<slug:slug>/", locomotive, name="locomotive"),
    path("l/<slug:slug>/holds/", holds, name="holds"),
    path("l/<slug:slug>/holds/add", add_hold, name="add_hold"),
    path("l/<slug:slug>/holds/add/<slug:key>", add_holds, name="add_holds"),
    path("l/<slug:slug>/import/", import_list, name="import_register"),
    path("l/<slug:slug>/ledger/", ledger, name="ledger"),
    path("l/<slug:slug>/ledger/csv", ledger_csv, name="ledger_csv"),
    path("l/<slug:slug>/ledger/pdf", ledger_pdf, name="ledger_pdf"),
    path("l/<slug:slug>/money/", money, name="money"),
    path("l/<slug:slug>/next/", next_things, name="next"),
    path("l/<slug:slug>/order/", order, name="order"),
    path("l/<slug:slug>/overhauls/", overhauls, name="overhauls"),
    path("l/<slug:slug>/renewals/", renewals, name="renewals"),
    path("l/<slug:slug>/s/<slug:code>/", subassembly, name="subassembly"),
    path("l/<slug:slug>/structure/", structure, name="structure"),
    path("l/<slug:slug>/structure/add", add_subassembly, name="add_subassembly"),
    path("l/<slug:slug>/structure/<slug:code>/", edit_subassembly, name="edit_subassembly"),
    path("l/<slug:slug>/structure/<slug:code>/add", add_position, name="add_position"),
    path("l/<slug:slug>/structure/<slug:code>/remove", remove_subassembly, name="remove_subassembly"),
    path("labels/", labels, name="labels"),
    path("labels/picture.png", labels_picture, name="labels_picture"),
    path("locomotives/new/", make, name="new_locomotive"),
    path("locomotives/", locomotives, name="locomotives"),
    path("more/", more, name="more"),
    path("next/", next_anywhere, name="next_anywhere"),
    path("p/<int:pk>/", position, name="position"),
    path("p/<int:pk>/decide", decide_on_place, name="decide_on_place"),
    path("p/<int:pk>/edit", edit_position, name="edit_position"),
    path("p/<int:pk>/evidence", add_evidence, name="add_evidence"),
    path("p/<int:pk>/known-empty", known_empty, name="known_empty"),
    path("p/<int:pk>/photos", position_photos, name="position_photos"),
    path("p/<int:pk>/new-piece", start_on, name="start_on"),
    path("p/<int:pk>/remove", remove_position, name="remove_position"),
    path("p/<int:pk>/renew", begin_renewal, name="begin_renewal"),
    path("paper/<slug:name>", paper, name="paper"),
    path("patterns/", patterns, name="patterns"),
    path("patterns/<int:pk>/", pattern, name="pattern"),
    path("patterns/<int:pk>/castings", add_casting, name="add_casting"),
    path("patterns/<int:pk>/edit", edit_pattern, name="edit_pattern"),
    path("patterns/<int:pk>/move", move_pattern, name="move_pattern"),
    path("patterns/<int:pk>/photos", pattern_photos, name="pattern_photos"),
    path("patterns/<int:pk>/places", pattern_places, name="pattern_places"),
    path("patterns/<int:pk>/promise", promise_pattern, name="promise_pattern"),
    path("patterns/<int:pk>/sums", pattern_sums_of, name="pattern_sums_of"),
    path("patterns/<int:pk>/tie", tie_pattern, name="tie_pattern"),
    path("patterns/<int:pk>/to/<slug:slug>", pattern_state, name="pattern_state"),
    path("patterns/add", add_pattern, name="add_pattern"),
    path("patterns/castings/<int:pk>/remove", remove_casting, name="remove_casting"),
    path("patterns/contractions/", contractions, name="contractions"),
    path("patterns/contractions/<int:pk>/better", add_contraction, name="better_contraction"),
    path("patterns/contractions/<int:pk>/strike", strike_contraction, name="strike_contraction"),
    path("patterns/contractions/add", add_contraction, name="add_contraction"),
    path("patterns/densities/<int:pk>/better", add_density, name="better_density"),
    path("patterns/densities/<int:pk>/strike", strike_density, name="strike_density"),
    path("patterns/densities/add", add_density, name="add_density"),
    path("patterns/sums/", pattern_sums, name="pattern_sums"),
    path("photo/<slug:name>/", photo_page, name="photo_page"),
    path("photo/<slug:name>/<slug:size>.jpg", photo, name="photo"),
    path("pieces/bulk/", bulk, name="bulk"),
    path("put-away/", put_away, name="put_away"),
    path("put-away/<int:pk>/put", put_into, name="put_into"),
    path("put-away/back/<int:pk>", take_back, name="take_back"),
    path("put-away/done", done_putting_away, name="done_putting_away"),
    path("renewals/<int:pk>/", renewal, name="renewal"),
    path("renewals/<int:pk>/add-step", add_step, name="add_step"),
    path("renewals/<int:pk>/close", close_renewal, name="close_renewal"),
    path("renewals/<int:pk>/give-up", give_up_renewal, name="give_up_renewal"),
    path("renewals/<int:pk>/new-piece", begin_piece, name="begin_piece"),
    path("renewals/<int:pk>/pattern", choose_pattern, name="choose_pattern"),
    path("renewals/<int:pk>/weld-up", weld_up, name="weld_up"),
    path("renewals/steps/<int:pk>/done", finish_step, name="finish_step"),
    path("renewals/steps/<int:pk>/edit", edit_step, name="edit_step"),
    path("renewals/steps/<int:pk>/failed", fail_step, name="fail_step"),
    path("renewals/steps/<int:pk>/not-needed", drop_step, name="drop_step"),
    path("renewals/steps/<int:pk>/promise", promise_step, name="promise_step"),
    path("repairs/<int:pk>/", repair, name="repair"),
    path("repairs/<int:pk>/edit", edit_repair, name="edit_repair"),
    path("repairs/<int:pk>/finish", finish_repair, name="finish_repair"),
    path("repairs/<int:pk>/give-up", give_up_repair, name="give_up_repair"),
    path("repairs/<int:pk>/promise", promise_repair, name="promise_repair"),
    path("routes/", routes, name="routes"),
    path("routes/<slug:key>/", edit_route, name="edit_route"),
    path("routes/<slug:key>/retire", retire_route, name="retire_route"),
    path("routes/add", add_route, name="add_route"),
    path("scan/", scan, name="scan"),
    path("stock/", stock, name="stock"),
    path("stock/receive", receive_stock, name="receive_stock"),
    path("t/<str:code>/cut", cut, name="cut"),
    path("t/<str:code>/decide", decide_on_piece, name="decide_on_piece"),
    path("t/<str:code>/photos", photos, name="photos"),
    path("t/<str:code>/move", move, name="move"),
    path("strip/", strip, name="strip"),
    path("T/<str:code>", tag, name="tag_in_capitals"),
    path("t/<str:code>", tag, name="tag"),
    path("t/<str:code>/describe", describe, name="describe"),
    path("t/<str:code>/do/<slug:slug>", act, name="do"),
    path("t/<str:code>/normal-place", keep_here, name="keep_here"),
    path("t/<str:code>/place", choose_place, name="choose_place"),
    path("t/<str:code>/repair", begin_repair, name="begin_repair"),
    path("t/<str:code>/replaces", replaces, name="replaces"),
    path("t/<str:code>/split", split, name="split"),
    path("t/<str:code>/tie", tie_tag, name="tie"),
    path("tag/", type_code, name="type-code"),
    path("where/", locations, name="locations"),
    path("where/add", add_location, name="add_location"),
    path("where/<int:pk>/", location, name="location"),
    path("where/<int:pk>/edit", edit_location, name="edit_location"),
    path("where/<int:pk>/move", carry, name="carry"),
    path("where/<int:pk>/photos", location_photos, name="location_photos"),
    path("where/<int:pk>/put", put_here, name="put_here"),
    path("where/<int:pk>/retire", retire_location, name="retire_location"),
    path("where/<int:pk>/tag", give_tag, name="give_tag"),
    path("where/<int:pk>/use-again", use_location_again, name="use_location_again"),
]
