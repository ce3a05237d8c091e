namespace DecayAtlas.Contributions.Reports;

/// <summary>The part of a contribution that a <see cref="PublicFinding"/> is in.</summary>
public enum FindingPart
{
    /// <summary>The whole, or a part that can't be told without the sender's words.</summary>
    Contribution,

    /// <summary>The file or sheet of a table.</summary>
    Table,

    /// <summary>The mapping beside a table.</summary>
    Mapping,

    /// <summary>The file in which a data package says what it is.</summary>
    Descriptor,

    /// <summary>The sheet in which a workbook says what it is.</summary>
    PackageSheet,
}
