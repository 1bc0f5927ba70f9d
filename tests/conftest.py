"""No test asserts how long anything takes: on a busy machine a slow draw is no failure."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "regkit", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("regkit")
