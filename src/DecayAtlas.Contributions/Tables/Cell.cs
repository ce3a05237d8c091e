namespace DecayAtlas.Contributions.Tables;

/// <summary>One checked value of a row. Which member counts follows from the type of its column.</summary>
internal struct Cell
{
    public bool HasValue;
    public string? Text;
    public double Number;
    public DateOnly Date;

    public readonly double? OptionalNumber => HasValue ? Number : null;

    public readonly DateOnly? OptionalDate => HasValue ? Date : null;

    /// <summary>Yes is kept as 1, no as 0.</summary>
    public readonly bool? OptionalYesNo => HasValue ? Number > 0 : null;
}
