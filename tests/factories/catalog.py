from datetime import date
from decimal import Decimal

import factory

from catalog.models import Material, Pack, Price, Supplier


class SupplierFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Supplier

    code = factory.Sequence(lambda number: f"SUP-{number}")
    name = factory.LazyAttribute(lambda supplier: f"Supplier {supplier.code}")


class MaterialFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Material

    code = factory.Sequence(lambda number: f"M-{number}")
    name = factory.LazyAttribute(lambda material: f"Material {material.code}")
    kind = "board"
    supply = "stocked"
    unit_used = "sqft"
    unit_bought = "sheet"


class PackFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Pack

    material = factory.SubFactory(MaterialFactory)
    code = factory.Sequence(lambda number: f"P-{number}")
    label = "8 ft sheet"
    quantity = Decimal(32)


class PriceFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Price

    pack = factory.SubFactory(PackFactory)
    amount = Decimal("14.50")
    starts_on = date(2026, 1, 1)
