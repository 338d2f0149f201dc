from decimal import Decimal

import django.db.models.deletion
import simple_history.models
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("quoting", "0001_people"),
    ]

    operations = [
        migrations.CreateModel(
            name="Supplier",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("code", models.CharField(max_length=60, unique=True)),
                ("name", models.CharField(max_length=200)),
                (
                    "order_cut_off",
                    models.TimeField(
                        blank=True, help_text="An order after this hour counts as the next day's.", null=True
                    ),
                ),
                ("email", models.CharField(blank=True, max_length=254)),
                ("note", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["code"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("code", ""), ("name", ""), _connector="OR", _negated=True),
                        name="supplier_code_name_stated",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalClosure",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("first_day", models.DateField()),
                ("last_day", models.DateField()),
                ("reason", models.TextField(blank=True)),
                (
                    "supplier",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.supplier",
                        to_field="code",
                    ),
                ),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical closure",
                "verbose_name_plural": "historical closures",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Closure",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "supplier",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="closures",
                        to="catalog.supplier",
                        to_field="code",
                    ),
                ),
                ("first_day", models.DateField()),
                ("last_day", models.DateField()),
                ("reason", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("last_day__gte", models.F("first_day"))),
                        name="closure_ends_after_it_begins",
                    )
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalMaterial",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("code", models.CharField(db_index=True, max_length=60)),
                ("name", models.CharField(max_length=200)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("track", "Curvable track"),
                            ("stud", "Steel stud"),
                            ("board", "Gypsum board"),
                            ("fastener", "Fasteners"),
                            ("bead", "Corner and edge bead"),
                            ("compound", "Joint compound"),
                            ("tape", "Joint tape"),
                            ("primer", "Primer"),
                            ("paint", "Paint"),
                            ("trim", "Trim profile"),
                            ("insulation", "Insulation"),
                            ("backing", "Backing"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "supply",
                    models.CharField(
                        choices=[
                            ("stocked", "Stocked"),
                            ("special_order", "Special order"),
                            ("custom_made", "Made to order"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "unit_used",
                    models.CharField(
                        choices=[
                            ("each", "each"),
                            ("mm", "mm"),
                            ("cm", "cm"),
                            ("m", "m"),
                            ("in", "in"),
                            ("ft", "ft"),
                            ("sqm", "sqm"),
                            ("sqft", "sqft"),
                            ("ml", "ml"),
                            ("l", "l"),
                            ("floz", "floz"),
                            ("gal", "gal"),
                            ("g", "g"),
                            ("kg", "kg"),
                            ("lb", "lb"),
                            ("h", "h"),
                        ],
                        max_length=10,
                    ),
                ),
                ("unit_bought", models.CharField(max_length=40)),
                ("waste", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("cushion_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("sign_off_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("active", models.BooleanField(default=True, help_text="Offered where a material is chosen.")),
                ("note", models.TextField(blank=True)),
                (
                    "profile",
                    models.JSONField(
                        blank=True, help_text="The card of a trim profile, as in a catalog file.", null=True
                    ),
                ),
                (
                    "supplier",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.supplier",
                        to_field="code",
                    ),
                ),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical material",
                "verbose_name_plural": "historical materials",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Material",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("code", models.CharField(max_length=60, unique=True)),
                ("name", models.CharField(max_length=200)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("track", "Curvable track"),
                            ("stud", "Steel stud"),
                            ("board", "Gypsum board"),
                            ("fastener", "Fasteners"),
                            ("bead", "Corner and edge bead"),
                            ("compound", "Joint compound"),
                            ("tape", "Joint tape"),
                            ("primer", "Primer"),
                            ("paint", "Paint"),
                            ("trim", "Trim profile"),
                            ("insulation", "Insulation"),
                            ("backing", "Backing"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "supply",
                    models.CharField(
                        choices=[
                            ("stocked", "Stocked"),
                            ("special_order", "Special order"),
                            ("custom_made", "Made to order"),
                        ],
                        max_length=20,
                    ),
                ),
                (
                    "unit_used",
                    models.CharField(
                        choices=[
                            ("each", "each"),
                            ("mm", "mm"),
                            ("cm", "cm"),
                            ("m", "m"),
                            ("in", "in"),
                            ("ft", "ft"),
                            ("sqm", "sqm"),
                            ("sqft", "sqft"),
                            ("ml", "ml"),
                            ("l", "l"),
                            ("floz", "floz"),
                            ("gal", "gal"),
                            ("g", "g"),
                            ("kg", "kg"),
                            ("lb", "lb"),
                            ("h", "h"),
                        ],
                        max_length=10,
                    ),
                ),
                ("unit_bought", models.CharField(max_length=40)),
                ("waste", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "supplier",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="materials",
                        to="catalog.supplier",
                        to_field="code",
                    ),
                ),
                ("cushion_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("sign_off_workdays", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("active", models.BooleanField(default=True, help_text="Offered where a material is chosen.")),
                ("note", models.TextField(blank=True)),
                (
                    "profile",
                    models.JSONField(
                        blank=True, help_text="The card of a trim profile, as in a catalog file.", null=True
                    ),
                ),
            ],
            options={
                "ordering": ["code"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            ("code", ""), ("name", ""), ("unit_bought", ""), _connector="OR", _negated=True
                        ),
                        name="material_code_name_unit_bought_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "kind__in",
                                [
                                    "track",
                                    "stud",
                                    "board",
                                    "fastener",
                                    "bead",
                                    "compound",
                                    "tape",
                                    "primer",
                                    "paint",
                                    "trim",
                                    "insulation",
                                    "backing",
                                ],
                            )
                        ),
                        name="material_kind_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("supply__in", ["stocked", "special_order", "custom_made"])),
                        name="material_supply_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "unit_used__in",
                                [
                                    "each",
                                    "mm",
                                    "cm",
                                    "m",
                                    "in",
                                    "ft",
                                    "sqm",
                                    "sqft",
                                    "ml",
                                    "l",
                                    "floz",
                                    "gal",
                                    "g",
                                    "kg",
                                    "lb",
                                    "h",
                                ],
                            )
                        ),
                        name="material_unit_used_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("waste__gte", 0), ("waste__lte", Decimal("1.999999"))),
                        name="material_waste_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("cushion_workdays__gte", 0), ("cushion_workdays__lte", 250)),
                        name="material_cushion_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sign_off_workdays__gte", 0), ("sign_off_workdays__lte", 250)),
                        name="material_sign_off_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("active__in", [True, False])), name="material_active_is_yes_or_no"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalMaterialFact",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("value", models.DecimalField(decimal_places=6, max_digits=14)),
                ("source", models.TextField()),
                (
                    "sure",
                    models.CharField(
                        choices=[
                            ("published", "Published"),
                            ("practice", "Common practice"),
                            ("memory", "From memory, unverified"),
                            ("maker", "The maker's"),
                            ("firm", "The firm's own"),
                        ],
                        max_length=10,
                    ),
                ),
                ("stated_on", models.DateField(blank=True, null=True)),
                ("name", models.CharField(max_length=60)),
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.material",
                    ),
                ),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical material fact",
                "verbose_name_plural": "historical material facts",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="MaterialFact",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("value", models.DecimalField(decimal_places=6, max_digits=14)),
                ("source", models.TextField()),
                (
                    "sure",
                    models.CharField(
                        choices=[
                            ("published", "Published"),
                            ("practice", "Common practice"),
                            ("memory", "From memory, unverified"),
                            ("maker", "The maker's"),
                            ("firm", "The firm's own"),
                        ],
                        max_length=10,
                    ),
                ),
                ("stated_on", models.DateField(blank=True, null=True)),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="facts", to="catalog.material"
                    ),
                ),
                ("name", models.CharField(max_length=60)),
            ],
            options={
                "ordering": ["name"],
                "constraints": [
                    models.UniqueConstraint(fields=("material", "name"), name="fact_once_a_material"),
                    models.CheckConstraint(condition=models.Q(("name", ""), _negated=True), name="fact_name_stated"),
                    models.CheckConstraint(
                        condition=models.Q(("value__gte", 0), ("value__lte", 1000000)), name="fact_value_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sure__in", ["published", "practice", "memory", "maker", "firm"])),
                        name="fact_sure_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("source", ""), _negated=True), name="fact_source_stated"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalStandard",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("value", models.DecimalField(decimal_places=6, max_digits=14)),
                ("source", models.TextField()),
                (
                    "sure",
                    models.CharField(
                        choices=[
                            ("published", "Published"),
                            ("practice", "Common practice"),
                            ("memory", "From memory, unverified"),
                            ("maker", "The maker's"),
                            ("firm", "The firm's own"),
                        ],
                        max_length=10,
                    ),
                ),
                ("stated_on", models.DateField(blank=True, null=True)),
                ("name", models.CharField(db_index=True, max_length=60)),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical standard",
                "verbose_name_plural": "historical standards",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Standard",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("value", models.DecimalField(decimal_places=6, max_digits=14)),
                ("source", models.TextField()),
                (
                    "sure",
                    models.CharField(
                        choices=[
                            ("published", "Published"),
                            ("practice", "Common practice"),
                            ("memory", "From memory, unverified"),
                            ("maker", "The maker's"),
                            ("firm", "The firm's own"),
                        ],
                        max_length=10,
                    ),
                ),
                ("stated_on", models.DateField(blank=True, null=True)),
                ("name", models.CharField(max_length=60, unique=True)),
            ],
            options={
                "ordering": ["name"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), _negated=True), name="standard_name_stated"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("value__gte", 0), ("value__lte", 1000000)), name="standard_value_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sure__in", ["published", "practice", "memory", "maker", "firm"])),
                        name="standard_sure_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("source", ""), _negated=True), name="standard_source_stated"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalSpacingStep",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("from_radius_mm", models.DecimalField(db_index=True, decimal_places=6, max_digits=14)),
                ("spacing_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("source", models.TextField()),
                (
                    "sure",
                    models.CharField(
                        choices=[
                            ("published", "Published"),
                            ("practice", "Common practice"),
                            ("memory", "From memory, unverified"),
                            ("maker", "The maker's"),
                            ("firm", "The firm's own"),
                        ],
                        max_length=10,
                    ),
                ),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical spacing step",
                "verbose_name_plural": "historical spacing steps",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="SpacingStep",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("from_radius_mm", models.DecimalField(decimal_places=6, max_digits=14, unique=True)),
                ("spacing_mm", models.DecimalField(decimal_places=6, max_digits=14)),
                ("source", models.TextField()),
                (
                    "sure",
                    models.CharField(
                        choices=[
                            ("published", "Published"),
                            ("practice", "Common practice"),
                            ("memory", "From memory, unverified"),
                            ("maker", "The maker's"),
                            ("firm", "The firm's own"),
                        ],
                        max_length=10,
                    ),
                ),
            ],
            options={
                "ordering": ["from_radius_mm"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("from_radius_mm__gte", 0), ("from_radius_mm__lte", 10000000)),
                        name="spacing_step_from_radius_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("spacing_mm__gt", 0), ("spacing_mm__lte", 10000000)),
                        name="spacing_step_spacing_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sure__in", ["published", "practice", "memory", "maker", "firm"])),
                        name="spacing_step_sure_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("source", ""), _negated=True), name="spacing_step_source_stated"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalFirm",
            fields=[
                ("id", models.PositiveSmallIntegerField(db_index=True, default=1, editable=False)),
                ("name", models.CharField(max_length=200)),
                ("address", models.TextField(blank=True)),
                ("contact", models.TextField(blank=True)),
                ("time_zone", models.CharField(max_length=60)),
                ("currency", models.CharField(max_length=3)),
                (
                    "display_units",
                    models.CharField(
                        choices=[("imperial", "Feet and inches"), ("metric", "Millimetres")], max_length=8
                    ),
                ),
                ("cushion_workdays", models.PositiveSmallIntegerField()),
                ("sign_off_workdays", models.PositiveSmallIntegerField()),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical firm",
                "verbose_name_plural": "historical firms",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Firm",
            fields=[
                ("id", models.PositiveSmallIntegerField(default=1, editable=False, primary_key=True, serialize=False)),
                ("name", models.CharField(max_length=200)),
                ("address", models.TextField(blank=True)),
                ("contact", models.TextField(blank=True)),
                ("time_zone", models.CharField(max_length=60)),
                ("currency", models.CharField(max_length=3)),
                (
                    "display_units",
                    models.CharField(
                        choices=[("imperial", "Feet and inches"), ("metric", "Millimetres")], max_length=8
                    ),
                ),
                ("cushion_workdays", models.PositiveSmallIntegerField()),
                ("sign_off_workdays", models.PositiveSmallIntegerField()),
            ],
            options={
                "constraints": [
                    models.CheckConstraint(condition=models.Q(("id", 1)), name="firm_is_one"),
                    models.CheckConstraint(
                        condition=models.Q(("name", ""), ("time_zone", ""), _connector="OR", _negated=True),
                        name="firm_name_time_zone_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("currency__regex", "^[A-Z]{3}$")), name="firm_currency_is_a_code"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("display_units__in", ["imperial", "metric"])),
                        name="firm_display_units_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("cushion_workdays__gte", 0), ("cushion_workdays__lte", 250)),
                        name="firm_cushion_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("sign_off_workdays__gte", 0), ("sign_off_workdays__lte", 250)),
                        name="firm_sign_off_workdays_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="KitEntry",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "role",
                    models.CharField(
                        choices=[
                            ("framing_screw", "Screws, stud to track"),
                            ("track_fastener", "Fasteners, track to floor and ceiling"),
                            ("board_screw", "Screws, board to stud"),
                            ("tape", "Joint tape"),
                            ("compound", "Joint compound"),
                            ("bead", "Bead at jambs, heads and free ends"),
                            ("bead_fastener", "Fasteners for bead"),
                            ("flexible_bead", "Flexible bead at arches and curved free tops"),
                            ("arch_track", "Track round arched heads"),
                            ("primer", "Primer"),
                            ("paint", "Paint"),
                            ("insulation", "Cavity insulation"),
                            ("backing", "Backing for trim"),
                        ],
                        max_length=30,
                    ),
                ),
                ("order", models.PositiveSmallIntegerField(default=0)),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="kit_entries",
                        to="catalog.material",
                        to_field="code",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "kit entries",
                "ordering": ["role", "order", "pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(
                            (
                                "role__in",
                                [
                                    "framing_screw",
                                    "track_fastener",
                                    "board_screw",
                                    "tape",
                                    "compound",
                                    "bead",
                                    "bead_fastener",
                                    "flexible_bead",
                                    "arch_track",
                                    "primer",
                                    "paint",
                                    "insulation",
                                    "backing",
                                ],
                            )
                        ),
                        name="kit_entry_role_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="kit_entry_order_in_bounds"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalLeadTerm",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("production_days", models.PositiveSmallIntegerField()),
                (
                    "production_counts",
                    models.CharField(
                        choices=[("workdays", "Working days"), ("calendar_days", "Calendar days")], max_length=15
                    ),
                ),
                ("transit_workdays", models.PositiveSmallIntegerField()),
                ("source", models.TextField()),
                ("stated_on", models.DateField()),
                ("stated_by", models.TextField(blank=True)),
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.material",
                    ),
                ),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical lead term",
                "verbose_name_plural": "historical lead terms",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="LeadTerm",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="lead_terms", to="catalog.material"
                    ),
                ),
                ("production_days", models.PositiveSmallIntegerField()),
                (
                    "production_counts",
                    models.CharField(
                        choices=[("workdays", "Working days"), ("calendar_days", "Calendar days")], max_length=15
                    ),
                ),
                ("transit_workdays", models.PositiveSmallIntegerField()),
                ("source", models.TextField()),
                ("stated_on", models.DateField()),
                ("stated_by", models.TextField(blank=True)),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [
                    models.CheckConstraint(
                        condition=models.Q(("production_days__gte", 0), ("production_days__lte", 730)),
                        name="lead_term_production_days_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("transit_workdays__gte", 0), ("transit_workdays__lte", 260)),
                        name="lead_term_transit_workdays_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("production_counts__in", ["workdays", "calendar_days"])),
                        name="lead_term_production_counts_is_known",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("source", ""), _negated=True), name="lead_term_source_stated"
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalPack",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("order", models.PositiveSmallIntegerField(default=0)),
                ("code", models.CharField(max_length=60)),
                ("label", models.CharField(max_length=200)),
                ("quantity", models.DecimalField(decimal_places=6, help_text="Units used in one pack.", max_digits=14)),
                ("length_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("width_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                (
                    "material",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.material",
                    ),
                ),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical pack",
                "verbose_name_plural": "historical packs",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Pack",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "material",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="packs", to="catalog.material"
                    ),
                ),
                ("order", models.PositiveSmallIntegerField(default=0)),
                ("code", models.CharField(max_length=60)),
                ("label", models.CharField(max_length=200)),
                ("quantity", models.DecimalField(decimal_places=6, help_text="Units used in one pack.", max_digits=14)),
                ("length_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
                ("width_mm", models.DecimalField(blank=True, decimal_places=6, max_digits=14, null=True)),
            ],
            options={
                "ordering": ["order", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("material", "code"), name="pack_code_once_a_material"),
                    models.CheckConstraint(
                        condition=models.Q(("code", ""), ("label", ""), _connector="OR", _negated=True),
                        name="pack_code_label_stated",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("order__gte", 0), ("order__lte", 5000)), name="pack_order_in_bounds"
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("quantity__gt", 0), ("quantity__lte", 1000000)),
                        name="pack_quantity_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("length_mm__gt", 0), ("length_mm__lte", 10000000)),
                        name="pack_length_mm_in_bounds",
                    ),
                    models.CheckConstraint(
                        condition=models.Q(("width_mm__gt", 0), ("width_mm__lte", 10000000)),
                        name="pack_width_mm_in_bounds",
                    ),
                ],
            },
        ),
        migrations.CreateModel(
            name="HistoricalPrice",
            fields=[
                ("id", models.BigIntegerField(auto_created=True, blank=True, db_index=True, verbose_name="ID")),
                ("amount", models.DecimalField(decimal_places=2, max_digits=12)),
                ("starts_on", models.DateField()),
                ("source", models.TextField(blank=True)),
                ("held_until", models.DateField(blank=True, null=True)),
                (
                    "pack",
                    models.ForeignKey(
                        blank=True,
                        db_constraint=False,
                        null=True,
                        on_delete=django.db.models.deletion.DO_NOTHING,
                        related_name="+",
                        to="catalog.pack",
                    ),
                ),
                ("history_id", models.AutoField(primary_key=True, serialize=False)),
                ("history_date", models.DateTimeField(db_index=True)),
                ("history_change_reason", models.CharField(max_length=100, null=True)),
                (
                    "history_type",
                    models.CharField(choices=[("+", "Created"), ("~", "Changed"), ("-", "Deleted")], max_length=1),
                ),
                (
                    "history_user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "verbose_name": "historical price",
                "verbose_name_plural": "historical prices",
                "ordering": ("-history_date", "-history_id"),
                "get_latest_by": ("history_date", "history_id"),
            },
            bases=(simple_history.models.HistoricalChanges, models.Model),
        ),
        migrations.CreateModel(
            name="Price",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "pack",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="prices", to="catalog.pack"
                    ),
                ),
                ("amount", models.DecimalField(decimal_places=2, max_digits=12)),
                ("starts_on", models.DateField()),
                ("source", models.TextField(blank=True)),
                ("held_until", models.DateField(blank=True, null=True)),
            ],
            options={
                "ordering": ["starts_on", "pk"],
                "constraints": [
                    models.UniqueConstraint(fields=("pack", "starts_on"), name="price_once_a_pack_and_day"),
                    models.CheckConstraint(
                        condition=models.Q(("amount__gte", 0), ("amount__lte", Decimal("9999999999.99"))),
                        name="price_amount_in_bounds",
                    ),
                ],
            },
        ),
    ]
