# Built and run by nobody here: no engine is at hand. Kept simple so that reading it is enough; see DEVELOPERS.md.
FROM mcr.microsoft.com/dotnet/sdk:10.0 AS build
WORKDIR /source
COPY . .
RUN dotnet publish src/ShopDiag.Web -c Release -o /app

FROM mcr.microsoft.com/dotnet/aspnet:10.0
WORKDIR /app
COPY --from=build /app .
ENV SHOPDIAG_DATA=/data
VOLUME /data
EXPOSE 5080
USER $APP_UID
# Inside the container the program must listen on all addresses; publish the port to the host's loopback only (docker-compose.yml does).
ENTRYPOINT ["dotnet", "ShopDiag.Web.dll", "serve", "--urls", "http://0.0.0.0:5080"]
