namespace DecayAtlas.Grids.Inspection;

/// <param name="Code">What kind of mistake, the same in every version.</param>
/// <param name="Covariate">Which covariate; null where it is about the catalogue as a whole.</param>
public sealed record CatalogueFinding(string Code, string? Covariate, string Sentence)
{
    public override string ToString() => Covariate is null ? $"{Code}: {Sentence}" : $"{Code}: {Covariate}: {Sentence}";
}
