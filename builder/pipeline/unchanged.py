"""Whether a library already is what a build would make: answered from files unread, so that it takes no time."""

from builder.pipeline.digest import order_digest
from builder.pipeline.order import Built, Order
from builder.pipeline.record import intact, read_record


def unchanged(order: Order) -> Built | None:
    """Return the library in an order's folder where it is what a build would make again; None where it may not be."""
    record = read_record(order.out)
    try:
        if record is None or record.order != order_digest(order):
            return None
    except OSError:
        return None
    files = intact(order.out, record)
    if not all(files.issuperset(made.files) for made in record.volumes.values()) or not files:
        return None
    return Built(order.out, record.blocks, record.families, 0)
