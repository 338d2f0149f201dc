from tests.support.fixtures import *  # noqa: F403
