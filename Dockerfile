# Built and run by nobody here: no engine is at hand. Kept simple so that reading it is enough; see docs/running.md.
FROM mcr.microsoft.com/dotnet/sdk:10.0 AS build
WORKDIR /source
COPY . .
RUN dotnet publish src/ShopDiag.Web -c Release -o /app

FROM mcr.microsoft.com/dotnet/aspnet:10.0
WORKDIR /app
COPY --from=build /app .
# For the program's user alone, before the volumes are declared: a new volume takes over what is there.
RUN mkdir /data /backups && chown $APP_UID /data /backups && chmod 700 /data /backups
ENV SHOPDIAG_DATA=/data SHOPDIAG_BACKUPS=/backups Logging__Console__FormatterName=json
VOLUME /data /backups
EXPOSE 5080
USER $APP_UID
# Inside the container the program must listen on all addresses; publish the port to the host's loopback only (docker-compose.yml does).
ENTRYPOINT ["dotnet", "ShopDiag.Web.dll", "serve", "--urls", "http://0.0.0.0:5080"]
