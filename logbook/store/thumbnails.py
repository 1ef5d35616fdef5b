"""Small images of the pictures, so that a print's page shows something when the file is gone."""

from logbook.store.opening import Store


def read(store: Store, picture_id: str) -> bytes | None:
    """The image file (as bytes) kept for a picture, or None."""
    row = store.connection.execute("SELECT image FROM thumbnail WHERE picture = ?", [picture_id]).fetchone()
    return None if row is None else bytes(row[0])


def write(store: Store, picture_id: str, image: bytes) -> None:
    """Keep a small image for a picture."""
    with store.writing() as connection:
        connection.execute("REPLACE INTO thumbnail (picture, image) VALUES (?, ?)", [picture_id, image])


def kept(store: Store) -> set[str]:
    """The ids of the pictures that have one."""
    return {picture for (picture,) in store.connection.execute("SELECT picture FROM thumbnail")}
