from jobs.orders.models.orders import (
    DeliverTo,
    Order,
    OrderLine,
    OrderMail,
    OrderState,
    OrderWay,
    Promise,
    Release,
    SignOff,
)

__all__ = [
    "DeliverTo",
    "Order",
    "OrderLine",
    "OrderMail",
    "OrderState",
    "OrderWay",
    "Promise",
    "Release",
    "SignOff",
]
