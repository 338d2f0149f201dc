from jobs.orders.models.orders import Order, OrderLine, OrderMail, OrderState, OrderWay, Promise, Release, SignOff

__all__ = [
    "Order",
    "OrderLine",
    "OrderMail",
    "OrderState",
    "OrderWay",
    "Promise",
    "Release",
    "SignOff",
]
