namespace DecayAtlas.Contributions.Questioning.Bags;

/// <summary>Masses as they will be read, for those who look at bags before the masses are theirs.</summary>
internal interface IWeighings
{
    bool IsRead(AskedColumn column);

    /// <summary>The mass in a row (g); null where there is none.</summary>
    double? Grams(AskedColumn column, int row);
}
