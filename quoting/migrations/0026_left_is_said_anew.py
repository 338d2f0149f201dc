from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0024_earlier_leads"),
        ("quoting", "0025_when_a_fact_was_written"),
    ]

    operations = [
        migrations.RemoveField(
            model_name="historicalsaidleft",
            name="history_user",
        ),
        migrations.RemoveField(
            model_name="historicalsaidleft",
            name="job",
        ),
        migrations.RemoveConstraint(
            model_name="paper",
            name="paper_kind_is_known",
        ),
        migrations.RemoveConstraint(
            model_name="saidleft",
            name="said_left_voided_says_why",
        ),
        migrations.RemoveField(
            model_name="saidleft",
            name="void_reason",
        ),
        migrations.RemoveField(
            model_name="saidleft",
            name="voided_at",
        ),
        migrations.RemoveField(
            model_name="saidleft",
            name="voided_by_name",
        ),
        migrations.AddField(
            model_name="saidleft",
            name="how",
            field=models.CharField(
                choices=[("amount", "Still costs"), ("nothing_more", "Nothing more"), ("as_reckoned", "As reckoned")],
                default="amount",
                max_length=12,
            ),
            preserve_default=False,
        ),
        migrations.AlterField(
            model_name="paper",
            name="kind",
            field=models.CharField(
                choices=[
                    ("quote", "Quotation"),
                    ("order_dates", "Order dates"),
                    ("site_sheet", "Site sheet"),
                    ("full_size", "Full-size template"),
                    ("certificate", "Certificate of acceptance"),
                    ("change_note", "Change note"),
                    ("order_sheet", "Order sheet"),
                    ("claim_letter", "Letter of a claim"),
                    ("request", "Payment request"),
                    ("statement", "Statement"),
                    ("job_result", "Job result"),
                ],
                max_length=12,
            ),
        ),
        migrations.AddConstraint(
            model_name="paper",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    (
                        "kind__in",
                        [
                            "quote",
                            "order_dates",
                            "site_sheet",
                            "full_size",
                            "certificate",
                            "change_note",
                            "order_sheet",
                            "claim_letter",
                            "request",
                            "statement",
                            "job_result",
                        ],
                    )
                ),
                name="paper_kind_is_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="saidleft",
            constraint=models.CheckConstraint(
                condition=models.Q(("how__in", ["amount", "nothing_more", "as_reckoned"])),
                name="said_left_how_is_known",
            ),
        ),
        migrations.AddConstraint(
            model_name="saidleft",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("amount__isnull", False), ("how", "amount")),
                    models.Q(models.Q(("how", "amount"), _negated=True), ("amount__isnull", True)),
                    _connector="OR",
                ),
                name="said_left_amount_is_said",
            ),
        ),
        migrations.DeleteModel(
            name="HistoricalSaidLeft",
        ),
    ]
