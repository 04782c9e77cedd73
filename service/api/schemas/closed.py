"""What a caller sends, where a member or parameter of another name is a slip and not an extension."""

from marshmallow import RAISE, Schema


class ClosedSchema(Schema):
    """A schema that refuses unknown members, and is described so."""

    class Meta:
        """The description takes `additionalProperties` from here."""

        unknown = RAISE
