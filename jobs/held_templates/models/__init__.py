from jobs.held_templates.models.templates import HeldTemplate, TemplateMove

__all__ = [
    "HeldTemplate",
    "TemplateMove",
]
