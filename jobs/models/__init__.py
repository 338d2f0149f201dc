from jobs.models.clients import Client
from jobs.models.confirmations import Confirmation, ConfirmedLine
from jobs.models.dates import ActivityChange, ItemDates, JobClosure
from jobs.models.deliveries import ClaimOutcome, Delivery, ReceiptLine, ReceiptPhoto, ReturnedGoods
from jobs.models.heights import HeightStation
from jobs.models.jobs import Job
from jobs.models.layers import Layer
from jobs.models.leans import ArcLean
from jobs.models.marks import DimensionMark
from jobs.models.openings import Opening
from jobs.models.orders import Order, OrderLine, OrderMail, OrderState, OrderWay, Promise, Release, SignOff
from jobs.models.overrides import Override
from jobs.models.own_activities import ActivityLink, OwnActivity
from jobs.models.photos import WallPhoto
from jobs.models.pieces import WallPiece
from jobs.models.planned_activities import PlannedActivityDays
from jobs.models.plans import ChosenPlan, FoundPlan, PlanOf, StickOnHand
from jobs.models.readings import ArcReading
from jobs.models.site_surveys import BaselineOffset, SiteSurvey
from jobs.models.stored_needs import StoredNeed
from jobs.models.templates import HeldTemplate, TemplateMove
from jobs.models.trims import TrimRun
from jobs.models.wall_kit import WallKitEntry
from jobs.models.walls import Wall
from jobs.models.worked_jobs import WorkedJob

__all__ = [
    "ActivityChange",
    "ActivityLink",
    "ArcLean",
    "ArcReading",
    "BaselineOffset",
    "ChosenPlan",
    "ClaimOutcome",
    "Client",
    "Confirmation",
    "ConfirmedLine",
    "Delivery",
    "DimensionMark",
    "FoundPlan",
    "HeightStation",
    "HeldTemplate",
    "ItemDates",
    "Job",
    "JobClosure",
    "Layer",
    "Opening",
    "Order",
    "OrderLine",
    "OrderMail",
    "OrderState",
    "OrderWay",
    "Override",
    "OwnActivity",
    "PlanOf",
    "PlannedActivityDays",
    "Promise",
    "ReceiptLine",
    "ReceiptPhoto",
    "Release",
    "ReturnedGoods",
    "SignOff",
    "SiteSurvey",
    "StickOnHand",
    "StoredNeed",
    "TemplateMove",
    "TrimRun",
    "Wall",
    "WallKitEntry",
    "WallPhoto",
    "WallPiece",
    "WorkedJob",
]
