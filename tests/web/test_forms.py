"""A form page: what was typed stays, what is wrong is said twice and leads to its field."""

from __future__ import annotations

import re

import pytest
from django import forms
from django.contrib.messages.storage.cookie import CookieStorage
from django.template.loader import render_to_string
from django.test import RequestFactory

from league.errors import Refused, Violation
from league.web import ServiceFormView, SubmissionField


class GameForm(forms.Form):
    submission = SubmissionField()
    place = forms.CharField(label="Where it was played", help_text="The name of the hall.", max_length=20)
    result = forms.ChoiceField(label="Who won", choices=[("a", "Odalys"), ("b", "Brannoc")], widget=forms.RadioSelect)
    seasonal = forms.BooleanField(label="Counts for the season", required=False)
    note = forms.CharField(label="Note", required=False, widget=forms.Textarea)


class LogGame(ServiceFormView):
    form_class = GameForm
    template_name = "form_page.html"
    title = "Log a game"
    success_url = "/done/"

    def act(self, form):
        if form.cleaned_data["place"] == "the moon":
            raise Refused([Violation("There is no table there.", "place"), Violation("Nor is there a night.")])


@pytest.fixture
def send():
    def sending(**typed):
        request = RequestFactory().post("/log/", typed) if typed else RequestFactory().get("/log/")
        request.user = None
        request._messages = CookieStorage(request)
        response = LogGame.as_view()(request)
        return response if response.status_code == 302 else response.render()

    return sending


def body(response):
    return response.content.decode()


SUBMISSION = "0f0d7f6e-5b0a-4c7e-9d55-0a8a3a2f6a11"


def test_a_form_that_is_in_order_leads_on(send):
    response = send(submission=SUBMISSION, place="Weir Street", result="a")
    assert (response.status_code, response["Location"]) == (302, "/done/")


def test_a_form_that_is_not_answers_422(send):
    assert send(place="").status_code == 422


def test_what_was_typed_stays_on_the_page(send):
    page = body(send(submission=SUBMISSION, place="Weir <Street>", result="", note="Rain."))
    assert 'value="Weir &lt;Street&gt;"' in page and "Rain.</textarea>" in page


def test_the_name_of_the_submission_stays_the_same(send):
    assert f'value="{SUBMISSION}"' in body(send(submission=SUBMISSION, place=""))


def test_the_summary_leads_to_each_field_in_error(send):
    page = body(send(submission=SUBMISSION, place="", result=""))
    summary = page[page.index("error-summary") : page.index("</form>")]
    assert re.findall(r'<li><a href="#([^"]+)">', summary) == ["id_place", "id_result_0"]


def test_each_link_of_the_summary_has_its_target(send):
    page = body(send(submission=SUBMISSION, place="", result=""))
    targets = re.findall(r'<li><a href="#([^"]+)">', page)
    assert all(f'id="{target}"' in page for target in targets) and targets


def test_a_field_is_described_by_its_help_and_its_error(send):
    page = body(send(submission=SUBMISSION, place=""))
    assert 'aria-describedby="id_place_helptext id_place_error"' in page
    assert 'id="id_place_helptext"' in page and 'id="id_place_error"' in page


def test_the_title_of_the_tab_begins_with_error(send):
    assert "<title>Error: Log a game" in body(send(submission=SUBMISSION, place=""))


def test_a_fresh_form_says_nothing_of_errors(send):
    page = body(send())
    assert "error-summary" not in page and "<title>Log a game" in page


def test_every_reason_of_a_refusal_is_shown(send):
    page = body(send(submission=SUBMISSION, place="the moon", result="a"))
    assert "There is no table there." in page and "Nor is there a night." in page


def test_what_may_be_left_out_is_marked_and_nothing_else(send):
    page = body(send())
    marked = re.findall(r"<label[^>]*>([^<]+) <span class=\"optional\">", page)
    assert marked == ["Note"]


def test_radio_buttons_stand_in_a_fieldset_with_their_question(send):
    page = body(send())
    assert re.search(r"<fieldset[^>]*>\s*<legend>Who won</legend>", page)


def test_the_browser_does_not_judge_before_the_server(send):
    assert "novalidate" in body(send())


def test_a_file_makes_the_form_multipart():
    class PhotoForm(forms.Form):
        photo = forms.FileField()

    page = render_to_string("form_page.html", {"form": PhotoForm(), "title": "Photo"})
    assert 'enctype="multipart/form-data"' in page


def test_a_set_of_forms_uses_the_same_fields():
    pair = forms.formset_factory(GameForm, extra=2)(prefix="game")
    page = str(pair)
    assert page.count('class="form-of-set"') == 2 and 'id="id_game-1-place_helptext"' in page
