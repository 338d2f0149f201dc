from django import forms
from django.contrib import messages
from django.core.exceptions import ValidationError
from django.forms import model_to_dict
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from quoting.platform.pages.entry_form import StoredForm
from quoting.platform.pages.stored_values import Stored, hold
from quoting.platform.people.models import Person
from quoting.platform.people.services import people


def _role_to_choose() -> forms.ChoiceField:
    return forms.ChoiceField(label="Role", choices=[("", "choose one"), *Person._meta.get_field("role").choices])


class PersonForm(StoredForm, forms.ModelForm):
    role = _role_to_choose()

    class Meta:
        model = Person
        fields = ["full_name", "role", "is_active"]
        help_texts = {"is_active": "Unticking ends every log-in, token and calendar for good."}


class NewPersonForm(forms.ModelForm):
    role = _role_to_choose()

    class Meta:
        model = Person
        fields = ["login_name", "full_name", "role"]
        error_messages = {
            "login_name": {"invalid": "Use letters, digits, hyphens and underscores only, such as pell-ardan."}
        }


def people_list(request: HttpRequest) -> HttpResponse:
    everyone = Person.objects.order_by("-is_active", "full_name")
    return render(request, "people/people.html", {"people": everyone})


def person_add(request: HttpRequest) -> HttpResponse:
    form = NewPersonForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        person, password = people.add_person(**form.cleaned_data)
        return _show_password(request, person, password)
    return render(request, "people/person.html", {"form": form}, status=_status(form))


def person_change(request: HttpRequest, person_id: int) -> HttpResponse:
    hold(Person.objects.filter(pk=person_id))
    person = get_object_or_404(Person, pk=person_id)
    form = PersonForm(request.POST or None, instance=person)
    form.see(Stored(model_to_dict(person, PersonForm.Meta.fields), address=request.path))
    if request.method == "POST" and form.is_valid():
        try:
            changed = people.change_person(person_id, **{name: form.cleaned_data[name] for name in form.Meta.fields})
        except ValidationError as refusal:
            form.add_error(None, refusal)
        else:
            messages.success(request, f"Saved: {changed.full_name}, {changed.get_role_display()}.")
            return redirect("people")
    context = {"form": form, "person": Person.objects.get(pk=person_id)}
    return render(request, "people/person.html", context, status=_status(form))


def person_new_password(request: HttpRequest, person_id: int) -> HttpResponse:
    get_object_or_404(Person, pk=person_id)
    return _show_password(request, *people.give_new_password(person_id))


def person_log_out(request: HttpRequest, person_id: int) -> HttpResponse:
    get_object_or_404(Person, pk=person_id)
    person = people.log_out_everywhere(person_id)
    messages.success(request, f"{person.full_name} is logged out everywhere; tokens and calendar have ended.")
    return redirect("people")


def _show_password(request: HttpRequest, person: Person, password: str) -> HttpResponse:
    response = render(request, "people/password_once.html", {"person": person, "password": password})
    response["Content-Location"] = reverse("people")
    response["Cache-Control"] = "no-store"
    return response


def _status(form: forms.Form | forms.ModelForm) -> int:
    return form.status() if isinstance(form, StoredForm) else 422 if form.errors else 200
