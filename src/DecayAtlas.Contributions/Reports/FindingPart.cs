namespace DecayAtlas.Contributions.Reports;

/// <summary>The part of a contribution that a <see cref="PublicFinding"/> is in.</summary>
public enum FindingPart
{
    /// <summary>The whole, or a part that can't be told without the sender's words.</summary>
    Contribution,
    Table,
    Mapping,
    Descriptor,
    PackageSheet,
}
