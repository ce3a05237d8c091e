namespace DecayAtlas.Contributions.Questioning.Sides;

/// <summary>Both halves of a position as a row says them.</summary>
/// <param name="CountryCode">Of the row, else of the group; null where nobody says it.</param>
/// <param name="Name">Of the site; null where it has none.</param>
internal sealed record WrittenPlace(WrittenDegrees? Latitude, WrittenDegrees? Longitude, string? CountryCode, string? Name);
