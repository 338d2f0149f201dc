from jobs.walls.models.heights import HeightStation
from jobs.walls.models.layers import Layer
from jobs.walls.models.leans import ArcLean
from jobs.walls.models.marks import DimensionMark
from jobs.walls.models.openings import Opening
from jobs.walls.models.overrides import Override
from jobs.walls.models.photos import WallPhoto
from jobs.walls.models.pieces import WallPiece
from jobs.walls.models.readings import ArcReading
from jobs.walls.models.room_ties import RoomTie
from jobs.walls.models.site_surveys import BaselineOffset, SiteSurvey
from jobs.walls.models.trims import TrimRun
from jobs.walls.models.wall_kit import WallKitEntry
from jobs.walls.models.walls import Wall
from jobs.walls.models.worked_walls import WorkedWall

__all__ = [
    "ArcLean",
    "ArcReading",
    "BaselineOffset",
    "DimensionMark",
    "HeightStation",
    "Layer",
    "Opening",
    "Override",
    "RoomTie",
    "SiteSurvey",
    "TrimRun",
    "Wall",
    "WallKitEntry",
    "WallPhoto",
    "WallPiece",
    "WorkedWall",
]
