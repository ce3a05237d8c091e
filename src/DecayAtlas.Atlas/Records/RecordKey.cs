namespace DecayAtlas.Atlas.Records;

public enum RecordKind
{
    Contribution,
    Site,
    Lot,
    Bag,
    Burial,
    Result,
}

/// <summary>Names one record of the atlas: the contribution that brought it, what it is, and its id there.</summary>
public readonly record struct RecordKey(string ContributionId, RecordKind Kind, string RecordId) : IComparable<RecordKey>
{
    /// <summary>Orders by contribution, kind, id, each ordinal, so that tables come out the same everywhere.</summary>
    public int CompareTo(RecordKey other)
    {
        int order = string.CompareOrdinal(ContributionId, other.ContributionId);
        if (order == 0)
            order = Kind.CompareTo(other.Kind);
        return order != 0 ? order : string.CompareOrdinal(RecordId, other.RecordId);
    }

    public static bool operator <(RecordKey a, RecordKey b) => a.CompareTo(b) < 0;

    public static bool operator >(RecordKey a, RecordKey b) => a.CompareTo(b) > 0;

    public static bool operator <=(RecordKey a, RecordKey b) => a.CompareTo(b) <= 0;

    public static bool operator >=(RecordKey a, RecordKey b) => a.CompareTo(b) >= 0;
}
